package chart

import (
	"math"
	"sort"
	"strconv"

	"mustbook/ferment/liquid"
)

// degree is a temperature on its day.
type degree struct{ day, celsius float64 }

// degrees lists the temperatures in order of time: the ferment's own where there
// are any, else those of samples, else the room's. A row that mixed them would
// read like a ferment that jumps.
func (c curve) degrees() (ds []degree, of string) {
	for _, from := range [][]string{{"must", "unlabelled", "cap"}, {"sample"}, {"room"}} {
		for _, t := range c.state.Temps {
			for _, f := range from {
				if t.From == f && t.C > -30 && t.C < 100 {
					ds = append(ds, degree{c.day(t.At), t.C})
				}
			}
		}
		if len(ds) > 0 {
			of = from[0]
			break
		}
	}
	if len(ds) == 0 {
		of = "sample"
		for _, r := range counting(c.state) {
			if r.TempC != nil {
				ds = append(ds, degree{c.day(r.At), *r.TempC})
			}
		}
	}
	sort.SliceStable(ds, func(i, j int) bool { return ds[i].day < ds[j].day })
	return ds, of
}

// temperatures prints a row of whole degrees under the dates, each below its
// moment; where they would touch, the newer stays.
func (f *frame) temperatures(p *picture) {
	ds, of := p.curves[0].degrees()
	if len(ds) == 0 {
		return
	}
	const foot = 14
	name := "room"
	switch {
	case of == "room":
	case p.look.Fahrenheit:
		name = "°F"
	default:
		name = "°C"
	}
	f.put(small, 0, 12, foot, name)
	edge := float64(Width - 2)
	for i := len(ds) - 1; i >= 0; i-- {
		d := ds[i]
		if d.day < f.x.low || d.day > f.x.high {
			continue
		}
		v := d.celsius
		if p.look.Fahrenheit {
			v = float64(liquid.Celsius(v).Fahrenheit())
		}
		s := strconv.Itoa(int(math.Round(v)))
		half := width(small, s) / 2
		x := math.Min(f.px(d.day), Width-2-half)
		if x+half > edge || x-half < 12+width(small, name)+8 {
			continue
		}
		f.put(small, -0.5, x, foot, s)
		edge = x - half - 7
	}
}
