package series

import (
	"bytes"
	"io"
)

// Headings are those of a file by the first of its text, whatever its columns hold; of a file without headings column 1
// and so on. It is nil of what has no rows of values. No more than most are given.
func Headings(r io.Reader, most int) []string {
	in := newLines(io.LimitReader(r, sampleBytes))
	var sample []line
	for len(sample) < sampleLines {
		b, ok := in.next()
		if !ok {
			break
		}
		if notText(b) != "" {
			return nil
		}
		sample = append(sample, line{bytes.Clone(bytes.TrimPrefix(b, []byte("\ufeff"))), in.at})
	}
	l, fault := layOut(sample)
	if fault != nil {
		return nil
	}
	list := []string{}
	for i := range l.columns[:min(len(l.columns), most)] {
		list = append(list, l.columns[i].text)
	}
	return list
}

// Unit is the unit in which a quantity is kept.
func (q Quantity) Unit() string { return q.si() }
