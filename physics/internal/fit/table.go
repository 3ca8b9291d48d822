package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// table is one file of reference figures. Faults are collected, so that all are said at once.
type table struct {
	name   string
	column map[string]int
	rows   [][]string
	lines  []int
	errs   []error
}

// readTable reads a comma-separated file that must have the named columns; it may have others.
func readTable(folder, name string, columns ...string) (*table, error) {
	f, err := os.Open(filepath.Join(folder, name))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.ReuseRecord = false
	head, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: no head line: %w", name, err)
	}
	t := &table{name: name, column: make(map[string]int, len(head))}
	for i, h := range head {
		if _, twice := t.column[h]; twice {
			return nil, fmt.Errorf("%s:1: column %q stands there twice", name, h)
		}
		t.column[h] = i
	}
	for _, c := range columns {
		if _, ok := t.column[c]; !ok {
			return nil, fmt.Errorf("%s:1: column %q is missing", name, c)
		}
	}
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return t, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		t.rows, t.lines = append(t.rows, row), append(t.lines, line)
	}
}

// text is the cell of a row.
func (t *table) text(row int, column string) string {
	return strings.TrimSpace(t.rows[row][t.column[column]])
}

// number is a cell that must hold a finite number.
func (t *table) number(row int, column string) float64 {
	x, ok := t.maybe(row, column)
	if !ok {
		t.errs = append(t.errs, fmt.Errorf("%s:%d: %s is empty, must be a number", t.name, t.lines[row], column))
	}
	return x
}

// maybe is a cell that may be empty.
func (t *table) maybe(row int, column string) (float64, bool) {
	s := t.text(row, column)
	if s == "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		t.errs = append(t.errs, fmt.Errorf("%s:%d: %s must be a number, got %q", t.name, t.lines[row], column, s))
	}
	return x, true
}

// err is every fault met so far.
func (t *table) err() error { return errors.Join(t.errs...) }
