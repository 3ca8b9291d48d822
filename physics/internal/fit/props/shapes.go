package props

import (
	"math"

	"partsaloft/physics/rotor"
)

// Shapes are the mean chord and pitch along the blade over the measured props, in parts of those
// at 75 % of the radius, at the stations of the law; each family counts once.
func Shapes(ps []Prop, law *rotor.BladeLaw) (chord, pitch []float64, n int) {
	size := map[string]float64{}
	for i := range ps {
		if len(ps[i].Spec.Stations) > 0 && !ps[i].Twists {
			size[ps[i].Family]++
			n++
		}
	}
	radii := rotor.StationRadii()
	chord, pitch = make([]float64, len(radii)), make([]float64, len(radii))
	var total float64
	for i := range ps {
		p := &ps[i]
		if len(p.Spec.Stations) == 0 || p.Twists {
			continue
		}
		blade, err := law.Blade(p.Spec.DiameterM, p.Spec.PitchM, p.Spec.Blades)
		if err != nil {
			continue
		}
		blade, err = blade.Measured(p.Spec.Stations)
		if err != nil {
			continue
		}
		c75, a75 := blade.At(0.75)
		w := 1 / size[p.Family]
		total += w
		for k, x := range radii {
			c, a := blade.At(x)
			chord[k] += w * math.Log(c/c75)
			pitch[k] += w * math.Log(math.Tan(a)*x/(math.Tan(a75)*0.75))
		}
	}
	for k := range radii {
		chord[k], pitch[k] = math.Exp(chord[k]/total), math.Exp(pitch[k]/total)
	}
	return chord, pitch, n
}
