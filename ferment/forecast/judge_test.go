package forecast

import (
	"encoding/csv"
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The judgement: go test ./ferment/forecast -run Judge -v prints it from a sample of
// the curves, with -judge=full from all of them.
var judgeFlag = flag.String("judge", "short", "how much of the judgement is run: short or full")

// portion is n in a full judgement and about a share of it in a short one.
func portion(n int, share float64) int {
	if *judgeFlag == "full" {
		return n
	}
	return max(int(float64(n)*share), 3)
}

func mustRows(t testing.TB, name string) [][]string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/curves/" + name)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(data), "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func mustNumber(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// simulated gives n of the 300 curves simulated elsewhere with the model of
// Coleman, Fish and Block (testdata/curves/README.md): one gravity a day.
func simulated(t testing.TB, n int) []truth {
	t.Helper()
	var all []truth
	for _, row := range mustRows(t, "synthetic_300.csv")[1:] {
		day := mustNumber(t, row[4])
		if day == 0 {
			c := mustNumber(t, row[1])
			all = append(all, truth{step: 1, tempC: c, temp: func(float64) float64 { return c }})
		}
		last := &all[len(all)-1]
		last.sg = append(last.sg, mustNumber(t, row[5]))
	}
	if len(all) != 300 {
		t.Fatalf("%d curves, want 300", len(all))
	}
	var out []truth
	for i := 0; i < n; i++ {
		out = append(out, all[i*77%len(all)]) // 77 and 300 share no factor
	}
	return out
}

// agave gives the three real ferments of agave juice at 28 °C (Valle 2024, BSD
// licence beside the data): ethanol and the two sugars every 8 h, each three times.
func agave(t testing.TB) []truth {
	t.Helper()
	out := make([]truth, 3)
	for i := range out {
		out[i] = truth{step: 8.0 / 24, tempC: 28, temp: func(float64) float64 { return 28 }}
		for _, row := range mustRows(t, "valle2024_agave.csv") {
			ethanol, sugar := mustNumber(t, row[1+i]), mustNumber(t, row[4+i])+mustNumber(t, row[7+i])
			out[i].sg = append(out[i].sg, 1+saltSG*(sugar+20)-alcoholSG*ethanol)
		}
	}
	return out
}

// reader reads a hydrometer with a normal error and notes three decimals.
type reader struct {
	rng   *rand.Rand
	sigma float64
}

func newReader(sigma float64) *reader { return &reader{rand.New(rand.NewPCG(7, 7)), sigma} }

func (r *reader) read(c truth, day float64) Reading {
	return Reading{day, math.Round((c.at(day)+r.sigma*r.rng.NormFloat64())*1000) / 1000}
}

// cell is one figure group of the judgement.
type cell struct {
	n                 int
	ours, line, fixed []float64 // absolute errors in days
	covered           int
	width             []float64
}

func median(xs []float64) float64 {
	if len(xs) == 0 {
		return math.NaN()
	}
	xs = slices.Clone(xs)
	slices.Sort(xs)
	return xs[len(xs)/2]
}

func (c *cell) add(d cell) {
	c.n += d.n
	c.covered += d.covered
	c.ours = append(c.ours, d.ours...)
	c.line = append(c.line, d.line...)
	c.fixed = append(c.fixed, d.fixed...)
	c.width = append(c.width, d.width...)
}

func (c *cell) coverage() float64 { return float64(c.covered) / float64(c.n) }

// score forecasts target after k readings of each curve, where it still lies ahead
// and will be reached.
func score(t testing.TB, curves []truth, target, sigma, every float64, k int) cell {
	t.Helper()
	var out cell
	r := newReader(sigma)
	for _, c := range curves {
		in := Input{Sigma: sigma, Targets: []float64{target}, Temps: []Temperature{{0, c.tempC, Must}}}
		for i := range k {
			in.Readings = append(in.Readings, r.read(c, every*float64(i)))
		}
		when, last := c.reaches(target), in.Readings[k-1]
		if math.IsInf(when, 1) || when <= last.Day {
			continue
		}
		res, err := Run(in)
		if err != nil {
			t.Fatal(err)
		}
		if len(res.Crossings) == 0 || !res.Crossings[0].Dated {
			continue // misread as reached already
		}
		x := res.Crossings[0]
		out.n++
		out.ours = append(out.ours, math.Abs(x.Median-when))
		out.width = append(out.width, x.High-x.Low)
		if x.Low <= when && when <= x.High {
			out.covered++
		}
		out.fixed = append(out.fixed, math.Abs(math.Max(8.5, last.Day)-when))
		before := in.Readings[k-2]
		straight := last.Day + (last.SG-target)*(last.Day-before.Day)/math.Max(before.SG-last.SG, 1e-9)
		out.line = append(out.line, math.Abs(straight-when))
	}
	return out
}

func TestJudgeDates(t *testing.T) {
	if underRace {
		t.Skip("one goroutine: the plain run judges")
	}
	t.Log("days of error (median) after k readings; cov: of the 80 % interval; line: straight")
	t.Log("through the last two; fixed: always day 8.5")
	curves := simulated(t, portion(300, 0.25))
	for _, sigma := range []float64{0.001, 0.002} {
		for _, target := range []float64{1.010, 1.000} {
			var all cell
			for k := 2; k <= 5; k++ {
				c := score(t, curves, target, sigma, 2, k)
				t.Logf("simulated, noise %.3f, to %.3f, k %d: n %3d  ours %.2f  line %5.2f  fixed %.2f  cov %.2f  width %.1f",
					sigma, target, k, c.n, median(c.ours), median(c.line), median(c.fixed), c.coverage(), median(c.width))
				all.add(c)
			}
			if cov := all.coverage(); cov < 0.75 || cov > 0.99 {
				t.Errorf("noise %v to %v: the 80 %% interval covers %.2f", sigma, target, cov)
			}
			if ours := median(all.ours); ours >= median(all.line) || ours >= median(all.fixed) {
				t.Errorf("noise %v to %v: %.2f days of error, no better than the naive ways", sigma, target, ours)
			}
		}
	}
}

// TestJudgeAgave reads three real ferments every 8 h; they are over in two days,
// faster than any that the priors were made from.
func TestJudgeAgave(t *testing.T) {
	var all cell
	for k := 3; k <= 5; k++ {
		c := score(t, agave(t), 1.010, 0.001, 8.0/24, k)
		if c.n == 0 {
			continue
		}
		all.add(c)
		t.Logf("agave, real, to 1.010, k %d: n %d  ours %.2f  line %.2f  cov %.2f", k, c.n, median(c.ours), median(c.line), c.coverage())
	}
	if all.n == 0 || median(all.ours) > 0.5 {
		t.Errorf("agave: %d forecasts, %.2f days of error", all.n, median(all.ours))
	}
}
