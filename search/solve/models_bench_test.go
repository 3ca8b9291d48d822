//go:build unix

package solve

import (
	"context"
	"math"
	"math/rand"
	"slices"
	"testing"

	"github.com/MaxHalford/eaopt"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/space"
)

// stockModels are the models that eaopt brings along, with rates of crossover and mutation like those of our own. Its
// ring is left out, which sets aside the fitness of neighbours that it changes, and steady state goes by the roulette
// wheel, for with a tournament it replaces other individuals than those it chose. Version 0.4.2 has no simulated
// annealing.
func stockModels() map[string]eaopt.Model {
	const rate = 0.7
	three := eaopt.SelTournament{NContestants: 3}
	return map[string]eaopt.Model{
		"generational": eaopt.ModGenerational{Selector: three, MutRate: rate, CrossRate: rate},
		"steady":       eaopt.ModSteadyState{Selector: eaopt.SelRoulette{}, KeepBest: true, MutRate: rate, CrossRate: rate},
		"downtosize": eaopt.ModDownToSize{NOffsprings: stockPopulation, SelectorA: three, SelectorB: eaopt.SelElitism{},
			MutRate: rate, CrossRate: rate},
		"mutation": eaopt.ModMutationOnly{Strict: true},
	}
}

// stockPopulation is how many individuals a stock model has.
const stockPopulation = 64

// stockGenome is our genome, evaluated when a stock model asks for it.
type stockGenome struct{ genome }

func (g *stockGenome) Evaluate() (float64, error) {
	g.archive.evaluate([]space.Candidate{g.at})
	return g.genome.Evaluate()
}

func (g *stockGenome) Crossover(mate eaopt.Genome, rng *rand.Rand) {
	g.genome.Crossover(&mate.(*stockGenome).genome, rng)
}

func (g *stockGenome) Clone() eaopt.Genome {
	c := *g
	return &c
}

// runStock runs a stock model on the operators, the repair, the cache and the budget of our search. It knows when to
// stop, which a search does not: once it has found what is the best.
func runStock(h *Archive, model eaopt.Model, seed uint64, found func() bool) error {
	s := h.space
	const stale = 200_000 // generations bred without a new candidate do not end otherwise
	config := eaopt.GAConfig{
		NPops: 1, PopSize: stockPopulation, HofSize: 1, NGenerations: stale, Model: model,
		RNG:       rand.New(rand.NewSource(int64(seed))),
		EarlyStop: func(*eaopt.GA) bool { return h.spent() || found() || int64(len(h.Known)) >= s.Fitted },
	}
	if _, steady := model.(eaopt.ModSteadyState); !steady {
		config.NGenerations /= stockPopulation // two children a generation against as many as there are parents
	}
	ga, err := config.NewGA()
	if err != nil {
		return err
	}
	return ga.Minimize(func(rng *rand.Rand) eaopt.Genome {
		c, _ := h.orders.random(rng)
		return &stockGenome{genome{h, c}}
	})
}

// seeking is what a search of one seed came to.
type seeking struct {
	found       bool
	until, ends float64 // evaluations until the best was found and in all
	untilS      float64 // processor time until then, of all of it where it was not found
	cpuS        float64
}

func seek(s *space.Space, best float64, seed uint64, model eaopt.Model) (seeking, error) {
	o := Options{Top: 10, Workers: 1, Seed: seed}
	h := newArchive(context.Background(), s, &o)
	r := seeking{until: math.Inf(1)}
	cpu := cpuSeconds()
	h.Each = func(c *space.Scored) {
		if !r.found && c.Evaluation.Feasible() && c.Evaluation.Score >= best-1e-9 {
			r.found, r.until, r.untilS = true, float64(h.Evaluated), cpuSeconds()-cpu
		}
	}
	var err error
	if model == nil {
		err = h.breed(seed)
	} else {
		err = runStock(h, model, seed, func() bool { return r.found })
	}
	r.cpuS, r.ends = cpuSeconds()-cpu, float64(h.Evaluated)
	if !r.found {
		r.untilS = r.cpuS
	}
	return r, err
}

// tightened is a space with a lower limit on a figure that one in three hundred of a sample of those that keep all other
// rules keeps.
func tightened(b *testing.B, s *space.Space, q figure.Quantity) *space.Space {
	b.Helper()
	style := s.Problem.Style
	var values []float64
	rng, every := rand.New(rand.NewSource(1)), max(s.Fitted/20_000, 1)
	s.Each(func(c space.Candidate) bool {
		if rng.Int63n(every) == 0 {
			if v := s.Evaluate(c).Evaluation; v.Feasible() {
				craft := s.Craft(c)
				performance := craft.Evaluate(&style.Flying)
				if value, why := performance.Figure(q); why == physics.Defined {
					values = append(values, value)
				}
			}
		}
		return true
	})
	if len(values) < 300 {
		b.Fatalf("only %d to set a limit by", len(values))
	}
	slices.Sort(values)
	least := objective.Limit{Quantity: q, Range: objective.Range{Low: values[len(values)*299/300], High: math.Inf(1)}}
	style.Limits = append(slices.Clone(style.Limits), least)
	return s.InStyle(style)
}

// feasibleShare is the share of a sample that keeps all rules.
func feasibleShare(s *space.Space) float64 {
	kept, tried, every := 0, 0, max(s.Fitted/100_000, 1)
	rng := rand.New(rand.NewSource(2))
	s.Each(func(c space.Candidate) bool {
		if rng.Int63n(every) == 0 {
			tried++
			if v := s.Evaluate(c).Evaluation; v.Feasible() {
				kept++
			}
		}
		return true
	})
	return float64(kept) / float64(tried)
}

// The models of evolution on the same genome, operators, repair and cache, twenty seeds each: how many find the proven
// best within 20 000 evaluations, the median of the evaluations that it takes (all of them where it is not found), how
// many a search takes that is begun anew until it finds it (all evaluations over those that found it, as Hansen et al.,
// Real-parameter black-box optimization benchmarking 2009, section 5), the mean of all evaluations and of the processor
// time. Stock models are stopped when they have found it. Beside them stands enumeration, its time from a sample.
func BenchmarkModels(b *testing.B) {
	for _, d := range modelDrawers {
		b.Run(d.name, func(b *testing.B) {
			s := d.lay(b)
			p, err := BranchAndBound(context.Background(), s, &Options{Top: 1, Workers: 2})
			if err != nil || !p.Whole {
				b.Fatal(err)
			}
			b.Run("enumeration", func(b *testing.B) {
				for b.Loop() {
					b.ReportMetric(float64(s.Fitted), "evals")
					if s.Fitted < mostSampled {
						b.ReportMetric(100*feasibleShare(s), "feasible-%")
					}
					b.ReportMetric(1000*float64(s.Fitted)*sampleTime(s), "cpu-ms")
				}
			})
			models := stockModels()
			models["niched"] = nil
			for _, name := range []string{"niched", "generational", "steady", "downtosize", "mutation"} {
				b.Run(name, func(b *testing.B) {
					for b.Loop() {
						benchmarkModel(b, s, p.BestScore(), models[name])
					}
				})
			}
		})
	}
}

func benchmarkModel(b *testing.B, s *space.Space, best float64, model eaopt.Model) {
	const seeds = 20
	var until []float64
	found, spent, ends, untilS, cpuS := 0, 0.0, 0.0, 0.0, 0.0
	for seed := range uint64(seeds) {
		r, err := seek(s, best, 1000+seed, model)
		if err != nil {
			b.Fatal(err)
		}
		if r.found {
			found++
		}
		spent += min(r.until, r.ends)
		until, ends = append(until, min(r.until, defaultMaxEvals)), ends+r.ends/seeds
		untilS, cpuS = untilS+r.untilS/seeds, cpuS+r.cpuS/seeds
	}
	slices.Sort(until)
	b.ReportMetric(float64(found), "of-20-seeds")
	b.ReportMetric((until[seeds/2-1]+until[seeds/2])/2, "evals-until-best")
	b.ReportMetric(spent/max(float64(found), 0.5), "evals-begun-anew")
	b.ReportMetric(ends, "evals")
	b.ReportMetric(1000*untilS, "cpu-ms-until-best")
	b.ReportMetric(1000*cpuS, "cpu-ms")
}
