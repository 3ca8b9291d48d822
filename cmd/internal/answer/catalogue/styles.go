package catalogue

import (
	"fmt"
	"strings"

	"partsaloft/physics"
)

// stylesAbout says what the built-in styles are for.
var stylesAbout = map[string]string{
	"cruise":    "Gentle flight over a distance: flying time first, then a smooth throttle.",
	"freestyle": "Turns, dives and pull-outs: grip and a fine throttle.",
	"race":      "Round the gates as fast as it goes, for one heat.",
	"indoor":    "Slow flight in a home, near people.",
	"hall":      "Slow flight between obstacles in a hall.",
}

// AboutStyle says in a sentence what a built-in style is for, "" of others.
func AboutStyle(name string) string { return stylesAbout[name] }

// landingClasses are crafts whose flights end alike.
var landingClasses = [physics.LandingClassEnd]string{
	physics.IonLanding: "Li-ion", physics.WhoopLanding: "one cell", physics.LightLanding: "crafts under 200 g with " +
		"small props",
	physics.OtherLanding: "others",
}

// UsualLandings says what parts of speed and thrust are of, and how flights end in a style that leaves it to the craft.
func UsualLandings() string {
	var words []string
	for k := range physics.LandingClassEnd {
		reserve, cellV := k.Usual()
		words = append(words, fmt.Sprintf("%s at %s V a cell or %.0f %% left", landingClasses[k], Fixed(cellV, 1),
			100*reserve))
	}
	return "Full speed and spare thrust are what motors, props and cells reach on a frame of usual drag. Where a " +
		"style sets no landing, a flight ends at whichever comes first: " + strings.Join(words, ", ") + "."
}
