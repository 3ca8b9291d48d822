// Package reference reads the tables of reference figures; every fault is said with its file and line.
package reference

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

// Table is one file of reference figures. Faults are collected, so that all are said at once.
type Table struct {
	name   string
	Column map[string]int
	Rows   [][]string
	lines  []int
	errs   []error
}

// Read reads a comma-separated file that must have the named columns; it may have others.
func Read(folder, name string, columns ...string) (*Table, error) {
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
	t := &Table{name: name, Column: make(map[string]int, len(head))}
	for i, h := range head {
		if _, twice := t.Column[h]; twice {
			return nil, fmt.Errorf("%s:1: column %q stands there twice", name, h)
		}
		t.Column[h] = i
	}
	for _, c := range columns {
		if _, ok := t.Column[c]; !ok {
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
		t.Rows, t.lines = append(t.Rows, row), append(t.lines, line)
	}
}

// Text is the cell of a row.
func (t *Table) Text(row int, column string) string {
	return strings.TrimSpace(t.Rows[row][t.Column[column]])
}

// Number is a cell that must hold a finite number.
func (t *Table) Number(row int, column string) float64 {
	x, ok := t.Maybe(row, column)
	if !ok {
		t.errs = append(t.errs, fmt.Errorf("%s:%d: %s is empty, must be a number", t.name, t.lines[row], column))
	}
	return x
}

// Maybe is a cell that may be empty.
func (t *Table) Maybe(row int, column string) (float64, bool) {
	s := t.Text(row, column)
	if s == "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		t.errs = append(t.errs, fmt.Errorf("%s:%d: %s must be a number, got %q", t.name, t.lines[row], column, s))
	}
	return x, true
}

// Err is every fault met so far.
func (t *Table) Err() error { return errors.Join(t.errs...) }
