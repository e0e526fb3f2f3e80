package forecast

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func ExampleRun() {
	r, err := Run(Input{
		Readings: []Reading{{0, 1.090}, {2, 1.0745}, {4, 1.047}, {6, 1.025}},
		Temps:    []Temperature{{0, 20, Must}},
		Targets:  []float64{1.010},
		Halt:     true,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	x := r.Crossings[0]
	fmt.Printf("%s: %.3f about day %.0f (%.0f to %.0f)\n", r.Verdict, x.Target, x.Median, x.Low, x.High)
	// Output: on course: 1.010 about day 8 (7 to 9)
}

func ExampleDryGravity() {
	fmt.Printf("%.3f\n", DryGravity(1.090))
	// Output: 0.992
}

func TestTooFew(t *testing.T) {
	for _, in := range []Input{{}, {Readings: []Reading{{0, 1.090}}}, {OG: 1.090}, {Readings: []Reading{{-3, 1.080}, {-1, 1.090}}}, {Readings: []Reading{{4, 1.050}}}} {
		in.Targets, in.Days, in.Halt = []float64{1.010}, []float64{5}, true
		r, err := Run(in)
		if err != nil || r.Verdict != TooFew || len(r.Crossings)+len(r.Band) != 0 || r.Now.Tested {
			t.Errorf("%v: %+v, %v", in.Readings, r, err)
		}
	}
	if _, err := Run(Input{OG: 1.010, Readings: []Reading{{1, 1.005}, {2, 1.003}}}); !errors.Is(err, ErrOG) {
		t.Errorf("a must of 1.010: %v, want ErrOG", err)
	}
}

// TestTargets: one already passed is left out; one that the must can never reach is
// not dated; a reading close above one dates it today or later.
func TestTargets(t *testing.T) {
	in := benchInput(5)
	in.Targets = []float64{1.020, 1.0085, 1.008, 0.970, math.NaN(), -1}
	r, err := Run(in)
	if err != nil {
		t.Fatal(err)
	}
	if got := len(r.Crossings); got != 3 { // the newest is 1.018
		t.Fatalf("%d targets dated, want 3: %+v", got, r.Crossings)
	}
	if x := r.Crossings[2]; x.Target != 0.970 || x.Dated || x.PNever < 0.99 || x.Median != 0 {
		t.Errorf("0.970: %+v", x)
	}
	if x := r.Crossings[0]; !x.Dated || x.Low < r.LastDay {
		t.Errorf("1.0085 of a batch at 1.018 on day %v: %+v", r.LastDay, x)
	}
}

// TestBand: it lies in order, falls, and passes by the readings.
func TestBand(t *testing.T) {
	in := benchInput(4)
	band, err := Band(in, []float64{20, 0, 6, math.NaN(), 8, -3, 12, 1e9})
	if err != nil {
		t.Fatal(err)
	}
	var days []float64
	for i, p := range band {
		days = append(days, p.Day)
		if !(p.Low <= p.Median && p.Median <= p.High) {
			t.Errorf("day %v: %v %v %v", p.Day, p.Low, p.Median, p.High)
		}
		if i > 0 && p.Median > band[i-1].Median {
			t.Errorf("day %v: the median rises to %v", p.Day, p.Median)
		}
	}
	if diff := cmp.Diff([]float64{0, 6, 8, 12, 20}, days); diff != "" {
		t.Fatal(diff)
	}
	if band[1].Low > 1.0335+0.001 || band[1].High < 1.0335-0.001 || band[1].High-band[1].Low > 0.006 {
		t.Errorf("day 6, read at 1.0335: %+v", band[1])
	}
	if w, v := band[4].High-band[4].Low, band[1].High-band[1].Low; w <= v {
		t.Errorf("the doubt does not grow: %v, then %v", v, w)
	}
}

// TestTemperatureMoves: a batch to be kept colder is slower, one of unknown
// temperature more doubtful.
func TestTemperatureMoves(t *testing.T) {
	date := func(change func(*Input)) Crossing {
		in := benchInput(2)
		change(&in)
		r, err := Run(in)
		if err != nil {
			t.Fatal(err)
		}
		return r.Crossings[0]
	}
	cold := 12.0
	as := date(func(*Input) {})
	colder := date(func(in *Input) { in.Planned = &cold })
	// 12 °C is 0.54 of a day at 20 °C, 18 °C 0.86 (the method's table).
	if got, want := (colder.Median-2)/(as.Median-2), 0.86/0.54; math.Abs(got-want) > 0.02 {
		t.Errorf("at 12 °C it takes %.2f times as long, want %.2f", got, want)
	}
	known := date(func(in *Input) { in.Temps = []Temperature{{0, 20, Must}} })
	if blind := date(func(in *Input) { in.Temps = nil }); blind.High-blind.Low <= known.High-known.Low {
		t.Error("no temperature, and no more doubt")
	}
}

// TestUnreadStart: where nobody read the must, the interval must say so and still
// hold. Truth: the simulated curves without their first reading.
func TestUnreadStart(t *testing.T) {
	r := newReader(0.001)
	n, in80 := 0, 0
	for _, c := range simulated(t, portion(300, 0.2)) {
		in := Input{Targets: []float64{1.010}, Temps: []Temperature{{0, c.tempC, Must}}}
		for day := 2.0; day <= 6; day += 2 {
			in.Readings = append(in.Readings, r.read(c, day))
		}
		when := c.reaches(1.010)
		if math.IsInf(when, 1) || when <= 6 {
			continue
		}
		res, err := Run(in)
		if err != nil || !res.OGAssumed {
			t.Fatal(res, err)
		}
		if len(res.Crossings) == 0 {
			continue
		}
		n++
		if x := res.Crossings[0]; x.Low <= when && when <= x.High {
			in80++
		}
	}
	t.Logf("start not read, three readings: n %d, 80 %% interval covers %.2f", n, share(in80, n))
	if share(in80, n) < 0.75 {
		t.Errorf("the 80 %% interval covers %.2f of %d", share(in80, n), n)
	}
}

// TestSugarAdded: the way of doc.go with sugar added to a working batch.
func TestSugarAdded(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	r := newReader(0.001)
	var errs []float64
	in80 := 0
	for len(errs) < portion(100, 0.2) {
		f := healthy(rng)
		f.S0, f.fedOn, f.feed = between(rng, 140, 180), 3, 40
		c := f.truth(40)
		when := c.reaches(1.010)
		if math.IsInf(when, 1) || when < 9 {
			continue
		}
		in := Input{Targets: []float64{1.010}, Temps: []Temperature{{0, c.tempC, Must}}}
		for day := 0.0; day <= 6; day += 2 {
			reading := r.read(c, day)
			if day < f.fedOn {
				reading.SG += f.feed * saltSG
			}
			in.Readings = append(in.Readings, reading)
		}
		res, err := Run(in)
		if err != nil || len(res.Crossings) == 0 {
			t.Fatal(res, err)
		}
		x := res.Crossings[0]
		errs = append(errs, math.Abs(x.Median-when))
		if x.Low <= when && when <= x.High {
			in80++
		}
	}
	t.Logf("sugar added on day 3, four readings: %.2f days of error, covers %.2f", median(errs), share(in80, len(errs)))
	if median(errs) > 1.5 || share(in80, len(errs)) < 0.75 {
		t.Errorf("%.2f days of error, the 80 %% interval covers %.2f", median(errs), share(in80, len(errs)))
	}
}

// TestHourApart: the alarm takes two readings, and one repeated within the hour is
// not a second one.
func TestHourApart(t *testing.T) {
	still := []Reading{{0, 1.090}, {2, 1.070}, {4, 1.045}, {6, 1.042}, {8, 1.042}}
	verdict := func(readings []Reading) Result {
		r, err := Run(Input{Readings: readings, Temps: []Temperature{{0, 22, Must}}, Halt: true})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	once := verdict(still[:4])
	again := verdict(append(slices.Clone(still[:4]), Reading{6 + 1.0/24, 1.042}))
	if once.Verdict != Watch || again.Verdict != Watch || math.Abs(once.Now.P()-again.Now.P()) > 1e-9 {
		t.Errorf("one reading: %v; an hour later: %v", once.Verdict, again.Verdict)
	}
	if r := verdict(still); r.Verdict != Stuck {
		t.Errorf("two days later: %v (%.2f, %.2f)", r.Verdict, r.Now.P(), r.Before.P())
	}
}

// TestNearlyDry: what has come to its end is not stuck.
func TestNearlyDry(t *testing.T) {
	r, err := Run(Input{Readings: []Reading{{0, 1.090}, {3, 1.040}, {7, 0.994}, {10, 0.993}, {14, 0.993}}, Temps: []Temperature{{0, 24, Must}}, Halt: true})
	if err != nil || r.Now.Tested || r.Verdict != OnCourse {
		t.Errorf("%+v, %v", r, err)
	}
}

// TestRates: a ferment with a tenth of the usual fall shows it.
func TestRates(t *testing.T) {
	r, err := Run(Input{Readings: []Reading{{0, 1.090}, {4, 1.084}, {8, 1.078}, {12, 1.072}}, Temps: []Temperature{{0, 20, Must}}, Halt: true})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Rate-0.0015) > 0.0005 || r.UsualRate < 4*r.Rate || r.Verdict == OnCourse {
		t.Errorf("falling 0.0015 a day: rate %.4f, usual %.4f, %s", r.Rate, r.UsualRate, r.Verdict)
	}
}

// TestOrder: the order in which readings and temperatures come does not matter, and
// the same question gets the same answer.
func TestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := benchInput(rapid.IntRange(2, 5).Draw(t, "n"))
		in.Readings = append(in.Readings, Reading{2, 1.0790}, Reading{-1, 1.088})
		in.Temps = append(in.Temps, Temperature{3, 20, Sample}, Temperature{0, 17, Must})
		want, err := Run(in)
		if err != nil {
			t.Fatal(err)
		}
		in.Readings = rapid.Permutation(in.Readings).Draw(t, "readings")
		in.Temps = rapid.Permutation(in.Temps).Draw(t, "temps")
		got, err := Run(in)
		if diff := cmp.Diff(want, got); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
	})
}

// FuzzRun: whatever was read, there is no panic and no date that nobody could keep.
func FuzzRun(f *testing.F) {
	for _, seed := range [][8]float64{
		{0, 1.090, 2, 1.070, 4, 1.045, 6, 1.042},
		{0, 1.090, 2, 1.095, 4, 1.110, 6, 1.020},   // rising
		{0, 1.090, 0, 1.020, 0, 1.090, 0, 0.990},   // at once, contradictory
		{-9, 1.090, -4, 1.050, -2, 1.040, -1, 1.0}, // before the pitch
		{3, 1.010, 9, 1.012, 400, 1.011, 3000, 1.010},
		{math.NaN(), 1.05, math.Inf(1), math.NaN(), 1, math.Inf(-1), 2, 1.08},
	} {
		f.Add(seed[0], seed[1], seed[2], seed[3], seed[4], seed[5], seed[6], seed[7], 20.0, 0.001, 0.0)
	}
	f.Fuzz(func(t *testing.T, d0, g0, d1, g1, d2, g2, d3, g3, temp, sigma, og float64) {
		in := Input{
			OG: og, Sigma: sigma, Readings: []Reading{{d0, g0}, {d1, g1}, {d2, g2}, {d3, g3}},
			Temps: []Temperature{{d1, temp, Must}, {d2, temp + 2, Sample}}, Planned: &temp,
			Targets: []float64{1.010, 1.000, g3 - 0.001}, Days: []float64{d3 + 1, d2}, Halt: true,
		}
		r, err := Run(in)
		if err != nil && !errors.Is(err, ErrOG) {
			t.Fatal(err)
		}
		mustSane(t, r)
	})
}

func mustSane(t *testing.T, r Result) {
	t.Helper()
	if _, err := json.Marshal(r); err != nil {
		t.Fatalf("%v: %+v", err, r)
	}
	for _, x := range r.Crossings {
		ordered := r.LastDay <= x.Low && x.Low <= x.Median && x.Median <= x.High && x.High <= r.LastDay+Horizon
		if x.Dated && !ordered || x.PNever < 0 || x.PNever > 1 {
			t.Fatalf("%+v after day %v", x, r.LastDay)
		}
	}
	for _, p := range r.Band {
		if !(p.Low <= p.Median && p.Median <= p.High) {
			t.Fatalf("%+v", p)
		}
	}
	for _, p := range []float64{r.Now.P(), r.Before.P(), r.PSluggish} {
		if !(p >= 0 && p <= 1+1e-9) {
			t.Fatalf("probability %v in %+v", p, r)
		}
	}
	if r.Rate < 0 || r.UsualRate < 0 {
		t.Fatalf("rates %v, %v", r.Rate, r.UsualRate)
	}
}
