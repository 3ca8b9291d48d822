package learn

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// posterior is what the readings leave of the latent numbers.
type posterior struct {
	mean       []float64
	covariance *mat.SymDense
	linearised []linearisation // by observation, at the mean
}

// moments are mean and standard deviation of a linear form.
func (p *posterior) moments(r row) (mean, sd float64) {
	return r.at(p.mean), math.Sqrt(p.covarianceOf(r, r))
}

// covarianceOf is the covariance of two linear forms.
func (p *posterior) covarianceOf(a, b row) float64 {
	var sum float64
	for _, s := range a {
		for _, t := range b {
			sum += s.by * t.by * p.covariance.At(s.latent, t.latent)
		}
	}
	return sum
}

// correlation of two linear forms.
func (p *posterior) correlation(a, b row) float64 {
	return p.covarianceOf(a, b) / math.Sqrt(p.covarianceOf(a, a)*p.covarianceOf(b, b))
}

// variance of a linear form under the prior.
func variance(r row) float64 {
	var sum float64
	for _, t := range r {
		sum += t.by * t.by
	}
	return sum
}

// priorCovariance of two linear forms, whose numbers are independent there.
func priorCovariance(a, b row) float64 {
	var sum float64
	for _, s := range a {
		for _, t := range b {
			if s.latent == t.latent {
				sum += s.by * t.by
			}
		}
	}
	return sum
}

// row is the derivative of a reading over the latent numbers.
func (d *linearisation) row(reading int) row {
	r := make(row, len(d.touched))
	for x, latent := range d.touched {
		r[x] = term{latent, d.slopes[reading][x]}
	}
	return r
}

// predictionSDs are the standard deviations of an observation's predictions, the readings' own left out.
func (p *posterior) predictionSDs(k int) []float64 {
	d := &p.linearised[k]
	sds := make([]float64, len(d.slopes))
	for i := range d.slopes {
		r := d.row(i)
		sds[i] = math.Sqrt(p.covarianceOf(r, r))
	}
	return sds
}

// prediction is what is expected of an observation's readings, on their scale.
type prediction struct {
	values, sds []float64
}

// prediction of an observation, nil where it is not predicted to do what was read.
func (p *posterior) prediction(k int) *prediction {
	if p.linearised[k].predicted == nil {
		return nil
	}
	return &prediction{p.linearised[k].predicted, p.predictionSDs(k)}
}

// interval of the reading with an index.
func (x *prediction) interval(r *Reading, i int) Interval {
	if x == nil {
		return Interval{}
	}
	return r.interval(x.values[i], x.sds[i])
}
