package faults

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/strict"
)

// Fault is a fault of a file as one line: drawer.yaml:14:7: motor m1404-27: kv must be over 0, got -920; allowed is ….
func Fault(f *strict.Fault) string { return f.Place() + FaultHere(f) }

// FaultHere is a fault without its place.
func FaultHere(f *strict.Fault) string {
	sentence, key := problem(&f.Problem), f.Key()
	switch {
	case key == "" && f.Part == "":
		return strings.TrimPrefix(sentence, ": ")
	case key == "" && strings.HasPrefix(sentence, ": "):
		return f.Part + sentence
	case key == "":
		return f.Part + " " + sentence
	}
	if f.Part != "" {
		key = f.Part + ": " + key
	}
	if strings.HasPrefix(sentence, ": ") {
		return key + sentence
	}
	return key + " " + sentence
}

// Problem is what is wrong with a value and the way out, without saying which value.
func Problem(p *strict.Problem) string { return strings.TrimPrefix(problem(p), ": ") }

// Again is how words were read where the same was told of others before, in short.
func Again(p *strict.Problem) string {
	if text, ok := again[p.Code]; ok {
		return phrase.Fill(text, valuesOf(p))
	}
	return Problem(p)
}

// Way is the way out of a problem, "" if its sentence says it.
func Way(p *strict.Problem) string {
	if p.Way == "" {
		return ""
	}
	return phrase.Fill(waysOut[p.Way], valuesOf(p))
}

func valuesOf(p *strict.Problem) map[string]any {
	values := wordsOf(p.Values)
	values["write"] = p.Write
	return values
}

// wordsOf are values in the words of their sentence.
func wordsOf(given strict.Values) map[string]any {
	values := map[string]any{}
	for name, value := range given {
		if h, ok := value.(compat.Hold); ok {
			on := "shaft"
			if name == "prop_hold" {
				on = "bore"
			}
			value = hold(h, on)
		}
		values[name] = faultValue(value)
	}
	return values
}

// problem is a sentence that goes on behind the name of a value; one that stands for itself begins with a colon.
func problem(p *strict.Problem) string {
	text := phrase.Fill(faults[p.Code], valuesOf(p))
	if sentence, ok := craftFaults[string(p.Code)]; ok && text == "" {
		text = ": " + phrase.Fill(sentence, p.Values)
	}
	if text == "" {
		text = p.Error()
	}
	switch way := Way(p); {
	case way == "":
	case strings.HasPrefix(way, ": "):
		text += way
	default:
		text += "; " + way
	}
	return text
}

// Error is an error for people to read: the sentences of the codes in it, in place of these.
func Error(err error) string {
	text := craftError(err, err.Error())
	var list strict.Faults
	var one strict.Fault
	var bare *strict.Problem
	switch {
	case errors.As(err, &list):
		lines := make([]string, len(list))
		for i := range list {
			lines[i] = Fault(&list[i])
		}
		return strings.Replace(text, list.Error(), strings.Join(lines, "\n"), 1)
	case errors.As(err, &one):
		return strings.Replace(text, one.Error(), Fault(&one), 1)
	case errors.As(err, &bare):
		return strings.Replace(text, bare.Error(), Problem(bare), 1)
	}
	return text
}

// faultValue is a value of a fault in the words of its sentence.
func faultValue(value any) any {
	switch x := value.(type) {
	case strict.Bounds:
		return bounds(x)
	case strict.Shape:
		return map[strict.Shape]string{strict.ListShape: "a list", strict.MappingShape: "keys with values"}[x]
	case strict.Fault:
		return FaultHere(&x)
	case error:
		return strings.ReplaceAll(Error(x), "\n", "; ")
	case compat.Inches:
		return fmt.Sprintf("%.3g in (%.1f mm)", float64(x), float64(x)*inventory.MmPerInch)
	case inventory.Plug:
		return plugName(x)
	case check.Few:
		return few(x)
	case check.Unit:
		if x != "" {
			return " " + string(x)
		}
		return ""
	case check.Group:
		return phrase.Fill(groups[x.Code], wordsOf(x.Values))
	}
	return value
}

// bounds is an allowed range with its unit: from 50 to 60000 rpm per volt.
func bounds(b strict.Bounds) string {
	unit := ""
	if b.Unit != "" {
		unit = " " + b.Unit
	}
	low, high := strict.Number(b.Low), strict.Number(b.High)
	switch {
	case math.IsInf(b.High, 1) && b.Open:
		return fmt.Sprintf("over %v%s", low, unit)
	case math.IsInf(b.High, 1):
		return fmt.Sprintf("at least %v%s", low, unit)
	case math.IsInf(b.Low, -1):
		return fmt.Sprintf("at most %v%s", high, unit)
	case b.Open:
		return fmt.Sprintf("over %v and at most %v%s", low, high, unit)
	}
	return fmt.Sprintf("from %v to %v%s", low, high, unit)
}

// faults are the sentences of what is wrong. One that begins with a colon stands for itself, the others go on behind
// the name of the value.
var faults = merged(yamlFaults, valueFaults, partFaults, sheetFaults, editFaults, learnFaults, styleFaults, fitFindings,
	seriesFaults,
	checkNotes)

func merged(tables ...map[strict.Code]string) map[strict.Code]string {
	all := map[strict.Code]string{}
	for _, t := range tables {
		maps.Copy(all, t)
	}
	return all
}

// waysOut are the ways out.
var waysOut = merged(ways, wearWays, checkWays)
