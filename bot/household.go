package bot

import (
	"hash/fnv"
	"math"
	"slices"
	"sort"
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/schedule"
)

// scheduleHouse is what holds for every batch, as the schedule takes it: all of it
// was typed by somebody and stands in the book, so that it can be undone. The
// instruments, which no batch asks for, are left to who plans for the house.
func (bk *book) scheduleHouse(now time.Time) schedule.House {
	f := bk.house.Flags
	h := schedule.House{Zone: bk.zone, Intervals: bk.house.Interval, Muted: bk.house.Muted, StirAt: bk.house.StirAt,
		Minors: f["minors"], NoRoundUp: f["no round-up"], UrgentBreaksQuiet: f["urgent at night"], Paused: f["paused"],
		PlaceL: map[string]float64{}, YearLimitL: bk.house.YearL}
	from, to, _ := strings.Cut(bk.house.Quiet, "-")
	if a, ok := ferment.Clock(from); ok {
		if z, ok := ferment.Clock(to); ok {
			h.QuietFrom, h.QuietTo = a, z
		}
	}
	if bk.house.Quiet == "off" {
		h.QuietFrom, h.QuietTo = 1, 1
	}
	h.Bundle, _ = ferment.Clock(bk.house.Bundle)
	for _, s := range bk.open() {
		if working(s) {
			h.PlaceL[s.Place] += s.VolumeL
		}
	}
	for _, m := range bk.madeIn(now) {
		h.YearMadeL += m.litres
	}
	settled := append([]ferment.Entry(nil), bk.settled...)
	ferment.Sort(settled, bk.zone)
	h.Away, h.Tubs = aways(settled), tubs(settled)
	for _, e := range settled {
		if e.Key == ferment.SetHeat {
			h.HeatAt, h.HeatRoot = e.At, e.Root
			if e.Text == "off" {
				h.HeatAt, h.HeatRoot = time.Time{}, 0
			}
		}
	}
	h.Own = bk.ownReminders()
	for _, s := range bk.open() {
		h.Steps = append(h.Steps, recipeSteps(s.N, bk.entries[s.N])...)
	}
	return h
}

// made is a batch of a year, with what there was of it.
type made struct {
	s      *ferment.State
	litres float64
}

// madeIn lists what was begun in the year of an instant, with the litres made: what is
// drunk or poured away since was made too, and what went into another batch counts there.
func (bk *book) madeIn(at time.Time) []made {
	var out []made
	for _, s := range bk.batches {
		moved := s.Stage == ferment.Empty && slices.ContainsFunc(bk.entries[s.N], func(e ferment.Entry) bool {
			return e.Deed == ferment.DeedEmpty && (e.Other != 0 || e.Text == splitUp)
		})
		if l := max(s.VolumeL, s.BottledL()); l > 0 && !moved && s.Began.In(bk.zone).Year() == at.In(bk.zone).Year() {
			out = append(out, made{s, l})
		}
	}
	return out
}

// ownReminders are what somebody asked to be reminded of, in the order asked.
func (bk *book) ownReminders() []schedule.Own {
	own := append([]ferment.Entry(nil), bk.house.Remind...)
	for _, es := range bk.entries {
		for i := range es {
			if e := &es[i]; e.Quantity == ferment.QSetting && e.Key == ferment.SetRemind {
				own = append(own, *e)
			}
		}
	}
	sort.Slice(own, func(i, j int) bool { return own[i].Root < own[j].Root })
	var out []schedule.Own
	for _, e := range own {
		out = append(out, schedule.Own{Root: e.Root, Batch: e.Batch, Member: e.Author, What: e.Text, Deed: e.Material,
			At: e.At, DayOnly: e.DayOnly, Made: e.TypedAt})
	}
	return out
}

// aways are the holidays of a house: each with who minds the batches and when it
// was over.
func aways(es []ferment.Entry) []schedule.Away {
	var out []schedule.Away
	find := func(root int64) *schedule.Away {
		for i := range out {
			if out[i].Root == root {
				return &out[i]
			}
		}
		return &schedule.Away{} // one that was undone
	}
	// What completes a holiday was typed after it, but its day may be an earlier one.
	for _, e := range es {
		if e.Key == ferment.SetAway {
			a := schedule.Away{Root: e.Root, Typed: e.TypedAt, From: e.At, To: e.At.AddDate(0, 0, int(e.Value))}
			minded(&a, e.Text)
			out = append(out, a)
		}
	}
	for _, e := range es {
		switch a := find(e.Of); e.Key {
		case ferment.SetAwayMinder:
			minded(a, e.Text)
		case ferment.SetAwayOver:
			a.To = e.At
		}
	}
	var held []schedule.Away
	for _, a := range out {
		if a.From.Before(a.To) { // else it was called off before it began
			held = append(held, a)
		}
	}
	return held
}

func minded(a *schedule.Away, who string) {
	if a.Pause = who == ferment.AwayPause; !a.Pause {
		a.Minder = who
	}
}

// tubSubjects number the tubs that lose strength with age.
var tubSubjects = map[string]int64{"sulphite": 1, "sorbate": 2}

// tubs are the open ones: the newest of each sort.
func tubs(es []ferment.Entry) []schedule.Tub {
	newest := map[string]schedule.Tub{}
	for _, e := range es {
		if e.Key == ferment.SetTub {
			newest[e.Material] = schedule.Tub{N: tubSubjects[e.Material], Root: e.Root, What: e.Material, Opened: e.At}
		}
	}
	var out []schedule.Tub
	for _, what := range []string{"sulphite", "sorbate"} {
		if t, ok := newest[what]; ok {
			out = append(out, t)
		}
	}
	return out
}

// recipeSteps are the steps of a batch's recipe: those typed last of each sort; a
// recipe without steps takes the earlier ones off.
func recipeSteps(n int, es []ferment.Entry) []schedule.Step {
	newest := map[string]int64{}
	for i := range es {
		if e := &es[i]; e.Key == ferment.SetStep {
			newest[e.Material] = max(newest[e.Material], e.Message)
		}
	}
	var out []schedule.Step
	for i := range es {
		e := &es[i]
		if e.Key == ferment.SetStep && e.Message == newest[e.Material] && e.Has {
			out = append(out, schedule.Step{Root: e.Root, Batch: n, Rule: e.Material, Amount: e.Text, After: time.Duration(e.Value * float64(time.Hour))})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].After < out[j].After })
	return out
}

const (
	seasonRest = 60 * day // a hydrometer that lay so long begins a new season (common practice, no source)
	sameLook   = time.Hour
	disagree   = 0.003
)

// instruments are the hydrometers of the house: when each came into use this season,
// when it was last held into water, and when two of them told apart.
func (bk *book) instruments(now time.Time) []schedule.Instrument {
	rs := bk.readings()
	nameOf := ferment.InstrumentOf(bk.settled)
	type use struct {
		schedule.Instrument
		name string
		last time.Time
	}
	at := map[string]*use{}
	var uses []*use
	in := &use{}
	for i, r := range rs {
		name := nameOf(r.Entry)
		if in.name != name || len(uses) == 0 { // mostly it is the one of before
			if in = at[name]; in == nil {
				in = &use{Instrument: schedule.Instrument{N: instrumentNumber(name)}, name: name}
				at[name] = in
				uses = append(uses, in)
			}
		}
		if r.At.Sub(in.last) > seasonRest {
			in.FirstUse, in.Root = r.At, r.Entry.Root
		}
		in.last = r.At
		for j := i - 1; j >= 0 && len(uses) > 1 && r.At.Sub(rs[j].At) <= sameLook; j-- { // one alone has nobody to disagree with
			if o := rs[j]; o.Entry.Batch == r.Entry.Batch && nameOf(o.Entry) != name && math.Abs(float64(o.SG-r.SG)) > disagree+1e-9 {
				in.Disagree, in.Root = r.At, r.Entry.Root
			}
		}
	}
	var out []schedule.Instrument
	for _, in := range uses {
		if now.Sub(in.last) > seasonRest {
			continue // it lies in its drawer
		}
		for i := range bk.settled {
			e := &bk.settled[i]
			if (e.Quantity == ferment.QInstrument || e.Deed == ferment.DeedCheck) && ferment.InstrumentName(e.Instrument) == in.name && e.At.After(in.Checked) {
				in.Checked = e.At
			}
		}
		out = append(out, in.Instrument)
	}
	return out
}

// readings are the gravities of all batches read by a stem, in order of time: those
// of each batch are in order already.
func (bk *book) readings() []*ferment.Reading {
	var out []*ferment.Reading
	taken := make([]int, len(bk.batches))
	for {
		first := -1
		for k, s := range bk.batches {
			for taken[k] < len(s.Readings) && !byStem(s, &s.Readings[taken[k]]) {
				taken[k]++
			}
			if taken[k] < len(s.Readings) && (first < 0 || s.Readings[taken[k]].At.Before(bk.batches[first].Readings[taken[first]].At)) {
				first = k
			}
		}
		if first < 0 {
			return out
		}
		out = append(out, &bk.batches[first].Readings[taken[first]])
		taken[first]++
	}
}

func byStem(s *ferment.State, r *ferment.Reading) bool {
	return r.Entry.Batch == s.N && r.Entry.Quantity != ferment.QBrix
}

// instrumentNumber makes a lasting number of an instrument's name.
func instrumentNumber(name string) int64 {
	h := fnv.New32a()
	h.Write([]byte(name))
	return int64(h.Sum32())
}
