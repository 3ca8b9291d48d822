package edit

import (
	"regexp"
	"slices"
	"strings"

	"partsaloft/inventory"
)

// column is what stands under a heading of a pilot's own sheet, and how it is said in a description: {} stands for the
// cell, unit for what a bare number is followed by.
type column struct {
	said string
	unit string
	name string // the heading as it was written
}

// What a column may be beside a part of a description.
const (
	columnKind = "kind" // names the kind of part
	columnNote = "note" // goes to the note
	columnID   = "id"
)

// columnHeadings are the headings that pilots write over what they own (common practice, no source), without units, in
// small letters. Where a kind of part has a meaning of its own for one it stands before the others.
var columnHeadings = []struct {
	words string // with commas between
	kind  inventory.Kind
	said  string
	unit  string
}{
	{"type,kind,category,part type,group,what", "", columnKind, ""},
	{"id,part id,no id", "", columnID, ""},
	{"name,model,item,description,product,part,part name,title,label,details,make,brand,motor,motors,prop,props,propeller," +
		"propellers,battery,batteries,pack,packs,lipo,frame,frames,esc,fc,flight controller,board,boards,aio,extra,component",
		"", "{}", ""},
	{"qty,quantity,count,pcs,pieces,number,amount,have,stock,in stock,owned,own,#,no,how many,units", "", "x{}", ""},
	{"weight,mass,wt,grams,g,weight each,unit weight,weight per piece", "", "{}", "g"},
	{"weight total,total weight", "", "{} total", "g"},
	{"kv,rpm/v,rpm per volt", inventory.KindMotor, "{}", "kv"},
	{"size,stator,motor size,stator size", inventory.KindMotor, "{}", ""},
	{"shaft,shaft diameter,shaft size", inventory.KindMotor, "shaft {}", "mm"},
	{"holes,mounting,mounting holes,hole pattern,bolt pattern,mount", inventory.KindMotor, "{}", ""},
	{"max current,max amps,max a,peak current,amps,a,current", inventory.KindMotor, "max {}", "A"},
	{"poles,magnets", inventory.KindMotor, "{} poles", ""},
	{"resistance,internal resistance,rm", inventory.KindMotor, "{}", "mohm"},
	{"size,prop size", inventory.KindProp, "{}", ""},
	{"diameter,dia", inventory.KindProp, "{}", "in"},
	{"pitch", inventory.KindProp, "pitch {}", "in"},
	{"blades,blade count,number of blades,no of blades", inventory.KindProp, "{} blades", ""},
	{"bore,hole,shaft,hub,hub diameter,shaft hole", inventory.KindProp, "bore {}", "mm"},
	{"mount,mounting,prop mount,fitting", inventory.KindProp, "{}", ""},
	{"prop mount,mount type", inventory.KindMotor, "{}", ""},
	{"capacity,mah,cap", inventory.KindPack, "{}", "mah"},
	{"c,c rating,c-rating,discharge,discharge rate,rating,c rate", inventory.KindPack, "{}", "C"},
	{"burst,burst c", inventory.KindPack, "burst {}", "C"},
	{"v,volts,voltage,nominal voltage", inventory.KindPack, "{}", "V"},
	{"chemistry,cell type,battery type", inventory.KindPack, "{}", ""},
	{"cycles,flights", inventory.KindPack, "{} cycles", ""},
	{"ir,internal resistance,resistance,cell resistance", inventory.KindPack, "{}", "mohm"},
	{"amps,a,max current,max amps,continuous", inventory.KindPack, "{}", "A"},
	{"size,dimensions", inventory.KindPack, "{}", ""},
	{"size,class,frame size,max prop,prop size,max prop size,props,inch", inventory.KindFrame, "{}", "in"},
	{"wheelbase,wb,motor to motor,diagonal", inventory.KindFrame, "{} wheelbase", "mm"},
	{"stack,fc mount,stack mounting,mounting,fc mounting,stack size", inventory.KindFrame, "stack {}", ""},
	{"motor mount,motor holes,motor pattern,motor mounting", inventory.KindFrame, "{} motor holes", ""},
	{"arm thickness,arms,arm", inventory.KindFrame, "{} arms", "mm"},
	{"camera,camera width,cam", inventory.KindFrame, "camera {}", "mm"},
	{"amps,a,current,continuous,esc current,rating,esc,continuous current", inventory.KindBoard, "{}", "A"},
	{"burst,peak,burst current,burst a", inventory.KindBoard, "burst {}", "A"},
	{"size,stack,mounting,mount,hole pattern,holes", inventory.KindBoard, "{}", ""},
	{"width", inventory.KindExtra, "{}", "mm"},
	{"power,power draw,draw,consumption,watts,w", inventory.KindExtra, "draws {}", "W"},
	{"role", inventory.KindExtra, "{}", ""},
	{"connector,plug", "", "{}", ""},
	{"s,cells,cell count,lipo cells,s rating,cell range,battery cells,input,input voltage", "", "{}", "S"},
	{"volts,voltage,v", "", "{}", ""},
	{"power,power draw", "", "draws {}", "W"},
}

var (
	inBrackets  = regexp.MustCompile(`\(([^()]*)\)|\[([^\[\]]*)\]`)
	behindSlash = regexp.MustCompile(`\s*/\s*(g|mm|in|mah|a|v|kv)$`)
	unitBehind  = regexp.MustCompile(`^(.*[^ ])[ _](?:in )?(g|grams?|oz|kg|mm|inch|inches|mah|ah|mohm)$`)
	numberCell  = regexp.MustCompile(`^[\d.,]+$`)
	rangeCell   = regexp.MustCompile(`^\[?\s*\d{1,2}(?:\s*(?:-|–|to|,)\s*\d{1,2})?\s*\]?$`)
	linkCell    = regexp.MustCompile(`(?i)^(?:https?://|www\.)`)
)

// headingNamed is the column of a heading for a kind of part, nil if the heading is not known.
func headingNamed(written string, kind inventory.Kind) *column {
	text, unit := strings.ToLower(strings.TrimSpace(written)), ""
	if m := inBrackets.FindStringSubmatch(text); m != nil {
		unit = strings.TrimSpace(m[1] + m[2])
		text = strings.TrimSpace(inBrackets.ReplaceAllString(text, ""))
	} else if m := behindSlash.FindStringSubmatch(text); m != nil && text != "rpm/v" {
		unit, text = m[1], strings.TrimSuffix(text, m[0])
	} else if m := unitBehind.FindStringSubmatch(text); m != nil {
		unit, text = m[2], m[1]
	}
	text = strings.Join(strings.FieldsFunc(strings.TrimRight(text, ".:"), func(r rune) bool { return r == ' ' || r == '_' }), " ")
	if text == "" {
		return nil
	}
	for _, own := range []bool{true, false} {
		for _, h := range columnHeadings {
			if own != (h.kind != "" && h.kind == kind) || !own && h.kind != "" ||
				!slices.Contains(strings.Split(h.words, ","), text) {
				continue
			}
			c := &column{h.said, h.unit, strings.TrimSpace(written)}
			if h.unit != "" && unit != "" && !strings.ContainsAny(unit, " 0123456789") && unit != "each" && unit != "cont" {
				c.unit = unit
			}
			return c
		}
	}
	return nil
}

// anyHeading reports whether a cell is a heading of any kind of part.
func anyHeading(cell string) bool {
	if digit.MatchString(cell) {
		return false
	}
	for _, kind := range inventory.Kinds() {
		if headingNamed(cell, kind) != nil {
			return true
		}
	}
	return false
}

// say is a cell as words of a description.
func (c *column) say(cell string) string {
	bare := numberCell.MatchString(cell)
	switch {
	case c.unit == "S" && rangeCell.MatchString(cell):
		cell = strings.NewReplacer("[", "", "]", "", ",", "-", " ", "").Replace(cell) + "S"
	case c.said == "x{}" && !bare:
		return cell // 4 pcs, a pair
	case c.unit != "" && bare:
		cell += c.unit
	}
	return strings.Replace(c.said, "{}", cell, 1)
}
