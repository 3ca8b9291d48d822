package series

import (
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory/strict"
)

// choose finds the columns: those that were named, then those whose headings speak for a quantity. Where none speaks
// for any figure, columns without meaning are kept to be told by their ranges.
func (rd *reading) choose(sample []line) *strict.Fault {
	taken := map[int]bool{}
	rd.last = 0
	for _, q := range Quantities() {
		for _, name := range rd.record.options.Columns[q] {
			c, fault := rd.named(q, name)
			if fault != nil {
				return fault
			}
			taken[c.Number] = true
			if q == Time {
				rd.time = c
				continue
			}
			rd.kept = append(rd.kept, c)
		}
	}
	best := map[Quantity]Column{}
	var many []Column
	most := map[Quantity]int{}
	order := newTrend(sample[rd.layout.first:], rd.layout)
	for i := range rd.layout.columns {
		h := &rd.layout.columns[i]
		if !rd.layout.headed || taken[i+1] {
			continue
		}
		q, points := h.meaning()
		if q == "" || len(rd.record.options.Columns[q]) > 0 || q == Time && !order.rises(i) {
			continue
		}
		c := Column{Quantity: q, Heading: h.text, Number: i + 1, How: ByWords, head: h}
		if q.several() {
			many = append(many, c)
		} else if points > most[q] {
			best[q], most[q] = c, points
		}
	}
	for _, q := range Quantities() {
		c, ok := best[q]
		switch {
		case !ok:
		case q == Time:
			rd.time = c
		case len(rd.kept) < mostColumns:
			rd.kept = append(rd.kept, c)
		}
	}
	for _, c := range many {
		if len(rd.kept) < mostColumns {
			rd.kept = append(rd.kept, c)
		}
	}
	for i := range rd.kept {
		taken[rd.kept[i].Number] = true
	}
	if fault := rd.chooseTime(order, taken); fault != nil {
		return fault
	}
	rd.keepSpare(order, taken)
	if len(rd.kept) == 0 {
		return rd.noColumns("series.no_columns")
	}
	return nil
}

// chooseTime finds the column of time where no heading speaks for it: the first that rises all along.
func (rd *reading) chooseTime(order *trend, taken map[int]bool) *strict.Fault {
	if rd.record.options.RateHz > 0 && len(rd.record.options.Columns[Time]) == 0 {
		rd.time = Column{Quantity: Time, Unit: "s", Factor: 1, How: Named}
		return nil
	}
	if rd.time.Number == 0 && !rd.layout.headed {
		for i := range rd.layout.columns {
			if !taken[i+1] && order.rises(i) && 2*order.up[i] > order.steps[i] && order.steps[i] >= 10 {
				h := &rd.layout.columns[i]
				rd.time = Column{Quantity: Time, Heading: h.text, Number: i + 1, How: ByRange, head: h}
				break
			}
		}
	}
	if rd.time.Number == 0 {
		return rd.noColumns("series.no_time")
	}
	taken[rd.time.Number] = true
	return nil
}

// keepSpare keeps columns without meaning where no other holds volts, amps, throttle or rpm.
func (rd *reading) keepSpare(order *trend, taken map[int]bool) {
	for i := range rd.kept {
		switch rd.kept[i].Quantity {
		case Volts, CellV, Amps, ESCAmps, Throttle, Outputs, RPM, ERPM:
			if rd.layout.headed {
				rd.unused(taken)
				return
			}
		}
	}
	for i := range rd.layout.columns {
		if h := &rd.layout.columns[i]; !taken[i+1] && order.numbers[i] > 0 && len(rd.kept) < mostColumns {
			taken[i+1] = true
			rd.kept = append(rd.kept, Column{Heading: h.text, Number: i + 1, How: ByRange, head: h})
		}
	}
	rd.unused(taken)
}

func (rd *reading) unused(taken map[int]bool) {
	for i := range rd.layout.columns {
		if h := &rd.layout.columns[i]; !taken[i+1] && h.text != "" && len(rd.record.Unused) < 200 {
			rd.record.Unused = append(rd.record.Unused, h.text)
		}
	}
}

func (rd *reading) noColumns(code strict.Code) *strict.Fault {
	list := strict.List{}
	for i := range rd.layout.columns {
		if len(list) == 12 {
			list = append(list, "…")
			break
		}
		list = append(list, clip([]byte(rd.layout.columns[i].text)))
	}
	return faultAt(max(rd.layout.headAt, 1), code, strict.Values{"columns": list})
}

// named finds a column by its heading or number.
func (rd *reading) named(q Quantity, name string) (Column, *strict.Fault) {
	wanted, written := strings.TrimSpace(name), ""
	find := func(wanted string) int {
		for i := range rd.layout.columns {
			if rd.layout.columns[i].text == wanted {
				return i
			}
		}
		for i := range rd.layout.columns {
			if strings.EqualFold(rd.layout.columns[i].text, wanted) {
				return i
			}
		}
		if n, err := strconv.Atoi(wanted); err == nil && n >= 1 && n <= len(rd.layout.columns) {
			return n - 1
		}
		return -1
	}
	at := find(wanted)
	if from := strings.LastIndexByte(wanted, '['); from > 0 && strings.HasSuffix(wanted, "]") && at < 0 {
		written = strings.ToLower(fold(strings.TrimSpace(wanted[from+1 : len(wanted)-1])))
		at = find(strings.TrimSpace(wanted[:from]))
	}
	if at < 0 {
		texts := make([]string, len(rd.layout.columns))
		for i := range texts {
			texts[i] = rd.layout.columns[i].text
		}
		fault := rd.noColumns("series.no_such_column")
		fault.Values["got"] = strict.Raw(clip([]byte(name)))
		fault.Values["quantity"] = string(q)
		if near := strict.Nearest(wanted, texts); near != "" {
			fault.Way, fault.Values["near"] = "id.near", near
		}
		return Column{}, fault
	}
	h := rd.layout.columns[at]
	if written != "" {
		if _, ok := unitOf(written, q); !ok {
			return Column{}, faultAt(max(rd.layout.headAt, 1), "series.unit", strict.Values{"got": strict.Raw(written),
				"quantity": string(q), "units": unitsOf(q)})
		}
		h.unit, h.factor = written, 1
	}
	return Column{Quantity: q, Heading: h.text, Number: at + 1, How: Named, head: &h}, nil
}

func unitsOf(q Quantity) strict.List {
	var list strict.List
	for i := range units {
		if slices.Contains(units[i].of, q) {
			list = append(list, units[i].name)
		}
	}
	return list
}

// trend is how columns move over the first rows.
type trend struct {
	steps, up, down []int32
	numbers         []int
	total           int
}

func newTrend(sample []line, l *layout) *trend {
	n := len(l.columns)
	t := &trend{steps: make([]int32, n), up: make([]int32, n), down: make([]int32, n), numbers: make([]int, n)}
	before := make([]float64, n)
	var f [][]byte
	for _, row := range sample {
		if isComment(row.text, l.separator) {
			continue
		}
		if f = fields(row.text, l.separator, f); len(f)+1 < n {
			continue
		}
		for i := range min(n, len(f)) {
			x, kind := number(f[i], l.decimal)
			if l.clocks[i] {
				if y, ok := clock(f[i], l.decimal); ok {
					x, kind = y, numeric
				}
			}
			if kind != numeric {
				continue
			}
			if t.numbers[i] > 0 {
				switch {
				case x > before[i]:
					t.up[i]++
				case x < before[i]:
					t.down[i]++
				}
				t.steps[i]++
			}
			t.numbers[i]++
			before[i] = x
		}
		t.total++
	}
	return t
}

// rises reports whether a column rises all along but for a few restarts.
func (t *trend) rises(i int) bool {
	return t.up[i] > 0 && 20*t.down[i] <= t.up[i] && 2*t.numbers[i] > t.total
}
