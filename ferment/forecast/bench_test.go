package forecast

import "testing"

// benchInput is a normal white at 18 °C read every other day, n readings.
func benchInput(n int) Input {
	sg := []float64{1.090, 1.0795, 1.0555, 1.0335, 1.0180, 1.0085, 1.0025, 0.9990}
	in := Input{Targets: []float64{1.010, 1.000}, Temps: []Temperature{{0, 18, Must}}}
	for i := range n {
		in.Readings = append(in.Readings, Reading{Day: 2 * float64(i), SG: sg[i]})
	}
	return in
}

// The aim is 10 ms a posterior and 40 ms with the test for a halt.
func BenchmarkRun(b *testing.B) {
	for _, bc := range []struct {
		name string
		n    int
		halt bool
	}{{"posterior/2", 2, false}, {"posterior/4", 4, false}, {"posterior/8", 8, false}, {"halt/4", 4, true}, {"halt/5", 5, true}, {"halt/7", 7, true}} {
		b.Run(bc.name, func(b *testing.B) {
			in := benchInput(bc.n)
			in.Halt = bc.halt
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Run(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
