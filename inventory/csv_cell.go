package inventory

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"partsaloft/inventory/strict"
)

func isNumber(s *strict.Schema) bool {
	kind, _ := s.Get("type").(string)
	return kind == "number" || kind == "integer"
}

var listBreak = regexp.MustCompile(`,\s+|\s*[;/|]\s*|\s+`)

// sheetCell turns a cell into YAML, by the schema of its key. What it cannot turn it leaves to the
// drawer's reader, which says how to write it.
func sheetCell(schema *strict.Schema, key, text string, sign *decimalSign) (string, error) {
	kind, _ := schema.Get("type").(string)
	switch {
	case kind == "number" || kind == "integer":
		value, err := sign.point(text)
		if err != nil {
			return "", err
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
	case strings.HasPrefix(text, "{") && kind == "object", strings.HasPrefix(text, "[") && kind == "array":
		return flowCell(text)
	case kind == "object":
		return "", fmt.Errorf("must stand in braces as in a drawer, got %s; write {…}", strict.Show(text))
	case key == "cells":
		m := cellText.FindStringSubmatch(text)
		if m == nil {
			return "", fmt.Errorf("must be the least and the most cells, got %s; write [2, 4]", strict.Show(text))
		}
		if m[2] == "" {
			m[2] = m[1]
		}
		return "[" + m[1] + ", " + m[2] + "]", nil
	case kind == "array" && schema.At("[]").Get("type") == "object":
		return "", fmt.Errorf("must stand in brackets and braces as in a drawer, got %s; write [{…}]", strict.Show(text))
	case kind == "array", schema.Get("anyOf") != nil && !square.MatchString(text):
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

// flowCell passes a cell in brackets or braces on, if it is whole.
func flowCell(text string) (string, error) {
	if strings.ContainsAny(text, "\r\n") || !strict.IsFlow(text) {
		return "", fmt.Errorf("is not whole: %s; close every bracket, brace and quote", strict.Show(text))
	}
	return text, nil
}

// listCell reads a list of words or numbers with commas and spaces, semicolons, slashes or spaces
// between them, in brackets or not.
func listCell(text, key string, sign *decimalSign) (string, error) {
	if strings.HasPrefix(text, "[") {
		return flowCell(text)
	}
	var items []string
	for _, item := range listBreak.Split(text, -1) {
		if item == "" {
			continue
		}
		if key != "with" {
			var err error
			if item, err = sign.point(item); err != nil {
				return "", err
			}
			if !plainYAMLNumber.MatchString(item) && !square.MatchString(item) {
				return "", fmt.Errorf("must be numbers, got %s; write [9, 12]", strict.Show(text))
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
	case d.comma == "" && (commaNumber.MatchString(text) && !commaOrThree.MatchString(text) || groupedDot.MatchString(text) || manyDots.MatchString(text)):
		d.comma, d.commaAt = text, at
	case d.dot == "" && (dotNumber.MatchString(text) && !dotOrThree.MatchString(text) || groupedComma.MatchString(text) || manyCommas.MatchString(text)):
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

func (d *decimalSign) complaint() string {
	return fmt.Sprintf("%s has a decimal comma (line %d) and %s a decimal point (line %d); write all numbers one way", d.comma, d.commaAt.Line, d.dot, d.dotAt.Line)
}

// point is a number with a decimal point; what is no number is left alone.
func (d *decimalSign) point(text string) (string, error) {
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
		return "", fmt.Errorf("may be %s or %s; write it without a comma", bare(text), strings.Replace(text, ",", ".", 1))
	case commaNumber.MatchString(text):
		if d.dot != "" {
			return "", errors.New("has a decimal comma where others have points; write a point")
		}
		return strings.Replace(text, ",", ".", 1), nil
	case dotOrThree.MatchString(text) && d.comma != "":
		return "", fmt.Errorf("may be %s or %s, for other numbers have decimal commas (%s in line %d); write it without a point", bare(text), text, d.comma, d.commaAt.Line)
	}
	return text, nil
}
