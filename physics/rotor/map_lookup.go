package rotor

import "partsaloft/physics/internal/numeric"

// surround adds one node on every side of a table of so wide rows, on the straight line through the last two, so that
// a lookup needs no border cases.
func surround(table []float64, wide int) {
	for k := 1; k <= mapSpeeds; k++ {
		row := table[k*wide : (k+1)*wide]
		row[0] = 2*row[1] - row[2]
		row[wide-1] = 2*row[wide-2] - row[wide-3]
	}
	for i := range wide {
		table[i] = 2*table[wide+i] - table[2*wide+i]
		last := mapSpeeds * wide
		table[last+wide+i] = 2*table[last+i] - table[last-wide+i]
	}
}

// coefficients are the interpolated table values at one inflow and speed.
type coefficients struct {
	t, q, slope, still float64 // slope is dt/dlambda; still is t without inflow
}

func (s *Map) lookup(inflow, speedRadS float64) coefficients {
	r := s.rows(speedRadS)
	i, f := s.inflowPlace(inflow)
	w, d := catmullRom(f), catmullRomSlope(f)
	return coefficients{
		t:     mix(s.thrusts, s.inflows+2, r.first, i, &r.weights, &w),
		q:     mix(s.torques, s.inflows+2, r.first, i, &r.weights, &w),
		slope: mix(s.thrusts, s.inflows+2, r.first, i, &r.weights, &d) / mapInflowStep,
		still: r.weights[0]*s.still[r.first] + r.weights[1]*s.still[r.first+1] + r.weights[2]*s.still[r.first+2] +
			r.weights[3]*s.still[r.first+3],
	}
}

// rows are the four rows of a table about a speed, and their weights.
type rows struct {
	first   int
	weights [4]float64
}

func (s *Map) rows(speedRadS float64) rows {
	k, f := s.speedPlace(numeric.Log(speedRadS))
	return rows{k, catmullRom(f)}
}

// of is one table's value at an inflow.
func (r *rows) of(s *Map, table []float64, inflow float64) float64 {
	i, f := s.inflowPlace(inflow)
	w := catmullRom(f)
	return mix(table, s.inflows+2, r.first, i, &r.weights, &w)
}

// speedPlace is where the logarithm of a speed in rad/s lies: the first of its four rows and the
// part of the step past the second.
func (s *Map) speedPlace(logSpeed float64) (row int, part float64) {
	return place((logSpeed-s.logLow)*s.perLog, mapSpeeds)
}

// inflowPlace is speedPlace for an inflow ratio.
func (s *Map) inflowPlace(inflow float64) (column int, part float64) {
	return place((inflow-mapLowInflow)*(1/mapInflowStep), s.inflows)
}

// place splits a position among a number of nodes, held between the first and the last, into the
// node before it and the rest. It is spelled out: min and max take longer, for they mind signs of 0.
func place(x float64, nodes int) (node int, part float64) {
	switch {
	case !(x > 0):
		return 0, 0
	case x >= float64(nodes-1):
		return nodes - 2, 1
	}
	node = int(x)
	return node, x - float64(node)
}

// mix is the sum of four by four nodes, each with the weights of its row and its column.
func mix(table []float64, wide, row, column int, byRow, byColumn *[4]float64) float64 {
	at := row*wide + column
	a, b, c, d := table[at:][:4], table[at+wide:][:4], table[at+2*wide:][:4], table[at+3*wide:][:4]
	x0, x1, x2, x3 := byColumn[0], byColumn[1], byColumn[2], byColumn[3]
	return byRow[0]*(x0*a[0]+x1*a[1]+x2*a[2]+x3*a[3]) + byRow[1]*(x0*b[0]+x1*b[1]+x2*b[2]+x3*b[3]) +
		byRow[2]*(x0*c[0]+x1*c[1]+x2*c[2]+x3*c[3]) + byRow[3]*(x0*d[0]+x1*d[1]+x2*d[2]+x3*d[3])
}

// thrustAt is t with its derivatives by inflow and by the logarithm of speed, and the same for t
// without inflow.
func (s *Map) thrustAt(inflow, logSpeed float64) (t, byInflow, byLog, still, stillByLog float64) {
	k, f := s.speedPlace(logSpeed)
	w, d := catmullRom(f), catmullRomSlope(f)
	i, fx := s.inflowPlace(inflow)
	x, y := catmullRom(fx), catmullRomSlope(fx)
	wide := s.inflows + 2
	n := s.thrusts[k*wide+i:]
	n0, n1, n2, n3 := n[:4], n[wide:][:4], n[2*wide:][:4], n[3*wide:][:4]
	a0 := x[0]*n0[0] + x[1]*n0[1] + x[2]*n0[2] + x[3]*n0[3]
	a1 := x[0]*n1[0] + x[1]*n1[1] + x[2]*n1[2] + x[3]*n1[3]
	a2 := x[0]*n2[0] + x[1]*n2[1] + x[2]*n2[2] + x[3]*n2[3]
	a3 := x[0]*n3[0] + x[1]*n3[1] + x[2]*n3[2] + x[3]*n3[3]
	b0 := y[0]*n0[0] + y[1]*n0[1] + y[2]*n0[2] + y[3]*n0[3]
	b1 := y[0]*n1[0] + y[1]*n1[1] + y[2]*n1[2] + y[3]*n1[3]
	b2 := y[0]*n2[0] + y[1]*n2[1] + y[2]*n2[2] + y[3]*n2[3]
	b3 := y[0]*n3[0] + y[1]*n3[1] + y[2]*n3[2] + y[3]*n3[3]
	c := s.still[k:][:4]
	return w[0]*a0 + w[1]*a1 + w[2]*a2 + w[3]*a3,
		(w[0]*b0 + w[1]*b1 + w[2]*b2 + w[3]*b3) * (1 / mapInflowStep),
		(d[0]*a0 + d[1]*a1 + d[2]*a2 + d[3]*a3) * s.perLog,
		w[0]*c[0] + w[1]*c[1] + w[2]*c[2] + w[3]*c[3],
		(d[0]*c[0] + d[1]*c[1] + d[2]*c[2] + d[3]*c[3]) * s.perLog
}

// torqueAt is q.
func (s *Map) torqueAt(inflow, logSpeed float64) float64 {
	k, f := s.speedPlace(logSpeed)
	i, fx := s.inflowPlace(inflow)
	w, x := catmullRom(f), catmullRom(fx)
	return mix(s.torques, s.inflows+2, k, i, &w, &x)
}

func catmullRom(f float64) [4]float64 {
	f2 := f * f
	f3 := f2 * f
	return [4]float64{-0.5*f3 + f2 - 0.5*f, 1.5*f3 - 2.5*f2 + 1, -1.5*f3 + 2*f2 + 0.5*f, 0.5*f3 - 0.5*f2}
}

func catmullRomSlope(f float64) [4]float64 {
	f2 := f * f
	return [4]float64{-1.5*f2 + 2*f - 0.5, 4.5*f2 - 5*f, -4.5*f2 + 4*f + 0.5, 1.5*f2 - f}
}
