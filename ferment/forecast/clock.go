package forecast

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// The clock of a ferment: a day at 20 °C is one thermal day. Growth and consumption
// share it, their slopes of ln rate per °C being 0.0782 and 0.0771 (Coleman, Fish,
// Block 2007, Appl. Environ. Microbiol. 73:5875; read in a transcription).
const (
	clockSlope           = 0.0775 // 1/°C
	clockZero            = 20.0   // °C
	clockMinC, clockMaxC = 8.0, 32.0
	primaryHeat          = 2.0 // °C a ferment stands above its room (common practice)
	shadow               = 3.0 // days round a temperature in which a worse kind is ignored
)

// pace is thermal days per day at c °C. The law is not extrapolated: outside 8 to
// 32 °C the limit's pace holds.
func pace(c float64) float64 {
	return math.Exp(clockSlope * (math.Min(math.Max(c, clockMinC), clockMaxC) - clockZero))
}

// clock turns days since the pitch into thermal days and back. Between logged
// temperatures the pace runs straight; before the first and after the last it holds.
type clock struct {
	day, pace, sum []float64 // nodes: day, pace there, thermal days there
	blind          bool      // no temperature at all
}

// newClock makes the clock of a batch. from is the day of the newest reading, from
// which a planned temperature holds.
func newClock(in Input, from float64) *clock {
	temps := usable(in)
	c := &clock{blind: len(temps) == 0}
	if c.blind {
		temps = []Temperature{{Day: 0, C: clockZero}}
	}
	for _, t := range temps {
		c.day, c.pace = append(c.day, t.Day), append(c.pace, pace(t.C))
	}
	if in.Planned != nil && finite(*in.Planned) {
		c.plan(from, pace(*in.Planned))
	}
	c.sum = make([]float64, len(c.day))
	for i := 1; i < len(c.day); i++ {
		c.sum[i] = c.sum[i-1] + (c.day[i]-c.day[i-1])*(c.pace[i]+c.pace[i-1])/2
	}
	// Thermal days count from the pitch, wherever the first temperature lies.
	zero := c.at(0)
	for i := range c.sum {
		c.sum[i] -= zero
	}
	return c
}

// plan makes the pace step to p on the given day and hold; later temperatures go.
func (c *clock) plan(day, p float64) {
	here := c.paceAt(day)
	n := sort.Search(len(c.day), func(i int) bool { return c.day[i] > day })
	c.day = append(c.day[:n], day, day)
	c.pace = append(c.pace[:n], here, p)
}

// usable takes out what is no temperature of the must, and what a better kind
// nearby makes superfluous; the rest comes back by day.
func usable(in Input) []Temperature {
	rank := map[Source]int{Must: 0, Unlabelled: 1, Sample: 2, Room: 3}
	var temps []Temperature
	for _, t := range in.Temps {
		_, known := rank[t.From]
		if !known || !finite(t.Day) || math.Abs(t.Day) > maxDay || !(t.C >= -20 && t.C <= 60) {
			continue
		}
		if t.From == Room && (in.Racked <= 0 || t.Day < in.Racked) {
			t.C += primaryHeat
		}
		temps = append(temps, t)
	}
	slices.SortFunc(temps, func(a, b Temperature) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.C, b.C))
	})
	var kept []Temperature
	for _, t := range temps {
		better := slices.ContainsFunc(temps, func(o Temperature) bool {
			return rank[o.From] < rank[t.From] && math.Abs(o.Day-t.Day) <= shadow
		})
		if !better {
			kept = append(kept, t)
		}
	}
	return kept
}

// node is the last node not after day, or 0.
func (c *clock) node(day float64) int {
	return max(sort.Search(len(c.day), func(i int) bool { return c.day[i] > day })-1, 0)
}

// paceAt is thermal days per day on a day.
func (c *clock) paceAt(day float64) float64 {
	i := c.node(day)
	if day <= c.day[i] || i+1 == len(c.day) {
		return c.pace[i]
	}
	f := (day - c.day[i]) / (c.day[i+1] - c.day[i])
	return c.pace[i] + f*(c.pace[i+1]-c.pace[i])
}

// at gives the thermal days between the pitch and day.
func (c *clock) at(day float64) float64 {
	i := c.node(day)
	return c.sum[i] + (day-c.day[i])*(c.pace[i]+c.paceAt(day))/2
}

// back gives the day on which theta thermal days have passed. The pace is never 0,
// so there is one.
func (c *clock) back(theta float64) float64 {
	i, _ := slices.BinarySearch(c.sum, theta)
	i = max(i-1, 0)
	rest := theta - c.sum[i]
	if rest < 0 || i+1 == len(c.day) {
		return c.day[i] + rest/c.pace[i]
	}
	width := c.day[i+1] - c.day[i]
	if width == 0 {
		return c.day[i]
	}
	// Solve p·x + a·x² = rest in the form that stays exact where a vanishes.
	a := (c.pace[i+1] - c.pace[i]) / (2 * width)
	root := math.Sqrt(math.Max(c.pace[i]*c.pace[i]+4*a*rest, 0))
	return c.day[i] + 2*rest/(c.pace[i]+root)
}
