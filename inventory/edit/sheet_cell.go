package edit

import (
	"regexp"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

func isNumber(s *strict.Schema) bool {
	kind, _ := s.Get("type").(string)
	return kind == "number" || kind == "integer"
}

var listBreak = regexp.MustCompile(`,\s+|\s*[;/|]\s*|\s+`)

// sheetCell turns a cell into YAML, by the schema of its key. What it cannot turn it leaves to the
// drawer's reader, which says how to write it.
func sheetCell(schema *strict.Schema, key, text string, sign *decimalSign) (string, *strict.Problem) {
	kind, _ := schema.Get("type").(string)
	switch {
	case kind == "number" || kind == "integer":
		value, problem := sign.point(text)
		if problem != nil {
			return "", problem
		}
		if !plainYAMLNumber.MatchString(value) {
			return strict.Scalar(value), nil
		}
		return value, nil
	case kind == "boolean":
		if lower := strings.ToLower(text); lower == "true" || lower == "false" {
			return lower, nil
		}
		return strict.Scalar(text), nil
	case strings.HasPrefix(text, "{") && kind == "object", strings.HasPrefix(text, "[") &&
		(kind == "array" || key == "cells"):
		return flowCell(text)
	case kind == "object":
		return "", gotProblem("cell.braces", text)
	case key == "cells":
		cells, ok := inventory.CellsNamed(text)
		if !ok {
			return "", gotProblem("cell.cells", text)
		}
		return cells.Written(), nil
	case kind == "array" && schema.At("[]").Get("type") == "object":
		return "", gotProblem("cell.brackets", text)
	case kind == "array", schema.Get("anyOf") != nil && !inventory.IsSquare(text):
		return listCell(text, key, sign)
	}
	if key == "stator" || key == "size" && schema.Get("type") == "string" {
		// Text made of numbers: 5,1x4,3x3.
		text = innerComma.ReplaceAllString(text, "$1.$2")
	}
	return strict.Scalar(text), nil
}

var innerComma = regexp.MustCompile(`(\d),(\d{1,2}(?:\D|$))`)

var plainYAMLNumber = regexp.MustCompile(`^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$`)

// gotProblem is a problem with what was written.
func gotProblem(code strict.Code, text string) *strict.Problem {
	return &strict.Problem{Code: code, Values: strict.Values{"got": strict.Raw(text)}}
}

// flowCell passes a cell in brackets or braces on, if it is whole.
func flowCell(text string) (string, *strict.Problem) {
	if strings.ContainsAny(text, "\r\n") || !strict.IsFlow(text) {
		return "", gotProblem("cell.not_whole", text)
	}
	return text, nil
}

// listCell reads a list of words or numbers with commas and spaces, semicolons, slashes or spaces
// between them, in brackets or not.
func listCell(text, key string, sign *decimalSign) (string, *strict.Problem) {
	if strings.HasPrefix(text, "[") {
		return flowCell(text)
	}
	var items []string
	for _, item := range listBreak.Split(text, -1) {
		if item == "" {
			continue
		}
		if key != "with" {
			var problem *strict.Problem
			if item, problem = sign.point(item); problem != nil {
				return "", problem
			}
			if !plainYAMLNumber.MatchString(item) && !inventory.IsSquare(item) {
				return "", gotProblem("cell.numbers", text)
			}
		} else {
			item = strict.Scalar(item)
		}
		items = append(items, item)
	}
	return "[" + strings.Join(items, ", ") + "]", nil
}

// decimalSign finds out whether the numbers of a file have decimal points or commas.
type decimalSign struct {
	comma, dot     string // the first number that can have no other sign
	commaAt, dotAt strict.Position
}

func newDecimalSign() *decimalSign { return &decimalSign{} }

var (
	commaNumber  = regexp.MustCompile(`^[+-]?\d*,\d+$`)
	commaOrThree = regexp.MustCompile(`^[+-]?[1-9]\d{0,2},\d{3}$`)
	groupedDot   = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(?:\.\d{3})+,\d+$`)
	groupedComma = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(?:,\d{3})+\.\d+$`)
	manyCommas   = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(?:,\d{3}){2,}$`)
	manyDots     = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(?:\.\d{3}){2,}$`)
	dotNumber    = regexp.MustCompile(`^[+-]?\d*\.\d+$`)
	dotOrThree   = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}\.\d{3}$`)
)

// see takes note of a number.
func (d *decimalSign) see(text string, at strict.Position) {
	switch {
	case d.comma == "" && (commaNumber.MatchString(text) && !commaOrThree.MatchString(text) ||
		groupedDot.MatchString(text) || manyDots.MatchString(text)):
		d.comma, d.commaAt = text, at
	case d.dot == "" && (dotNumber.MatchString(text) && !dotOrThree.MatchString(text) || groupedComma.MatchString(text) ||
		manyCommas.MatchString(text)):
		d.dot, d.dotAt = text, at
	}
}

// mixed is the place where a file goes over to the other sign, nil if it does not.
func (d *decimalSign) mixed() *strict.Position {
	switch {
	case d.comma == "" || d.dot == "":
		return nil
	case d.commaAt.Line < d.dotAt.Line || d.commaAt.Line == d.dotAt.Line && d.commaAt.Column < d.dotAt.Column:
		return &d.dotAt
	}
	return &d.commaAt
}

// complaint is the problem of a file with both signs.
func (d *decimalSign) complaint() strict.Problem {
	return strict.Problem{Code: "sheet.two_signs", Values: strict.Values{"comma": d.comma,
		"comma_line": strict.Line(d.commaAt.Line), "point": d.dot, "point_line": strict.Line(d.dotAt.Line)}}
}

// point is a number with a decimal point; what is no number is left alone.
func (d *decimalSign) point(text string) (string, *strict.Problem) {
	bare := func(s string) string { return strings.NewReplacer(",", "", ".", "").Replace(s) }
	switch {
	case groupedDot.MatchString(text):
		whole, part, _ := strings.Cut(text, ",")
		return bare(whole) + "." + part, nil
	case groupedComma.MatchString(text), manyCommas.MatchString(text):
		return strings.ReplaceAll(text, ",", ""), nil
	case manyDots.MatchString(text):
		return bare(text), nil
	case commaOrThree.MatchString(text) && d.comma == "":
		return "", &strict.Problem{Code: "cell.comma_or_thousands", Values: strict.Values{"whole": bare(text),
			"point": strings.Replace(text, ",", ".", 1)}}
	case commaNumber.MatchString(text):
		if d.dot != "" {
			return "", &strict.Problem{Code: "cell.decimal_comma"}
		}
		return strings.Replace(text, ",", ".", 1), nil
	case dotOrThree.MatchString(text) && d.comma != "":
		return "", &strict.Problem{Code: "cell.point_or_thousands", Values: strict.Values{"whole": bare(text), "point": text,
			"comma": d.comma, "line": strict.Line(d.commaAt.Line)}}
	}
	return text, nil
}
