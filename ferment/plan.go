package ferment

import (
	"strconv"
	"strings"
	"time"
)

// Keys of settings. A batch's settings stand in its own entries, the house's in
// entries of batch 0; the newest of a key counts.
const (
	SetUnits       = "units"
	SetZone        = "zone"
	SetGallon      = "gallon"
	SetReference   = "hydrometer reference" // Value °C
	SetRackAt      = "rack at"              // Value SG; Text sheet or house
	SetCheckDay    = "check day"            // Value days
	SetSheetLow    = "sheet low"
	SetSheetHigh   = "sheet high"
	SetInterval    = "interval" // Material rule id, Value hours; Text sheet or house
	SetMute        = "mute"     // Material rule id, Text on or off
	SetMinder      = "minder"   // Text
	SetMeantSweet  = "meant sweet"
	SetMeantFizzy  = "meant fizzy"
	SetDryEnough   = "dry enough"
	SetMLF         = "malolactic" // Text wanted or unwanted
	SetPulp        = "pulp"       // Text on or off
	SetBottleML    = "bottle size"
	SetQuiet       = "quiet hours" // Text 21:30-07:30
	SetBundle      = "bundle"      // Text 18:30
	SetYearLimit   = "year limit"
	SetRemind      = "remind"            // Text what, At when; DayOnly where only the day; Material the deed it speaks of
	SetAway        = "away"              // At the first day away, Value how many days, Text who minds the batches
	SetAwayMinder  = "away minder"       // Of the holiday, Text who minds the batches, or AwayPause
	SetAwayOver    = "away over"         // Of the holiday, At when it ended
	SetStep        = "step"              // of a recipe: Material rule id, Value hours after the pitch, Text the amount
	SetTub         = "tub"               // Material what was opened, At when
	SetHeat        = "heat"              // Text on or off: hot weather reported
	SetStirAt      = "stir hours"        // Text 07:30,19:30
	SetFlag        = "flag"              // Material names it, Text on or off
	SetOwn         = "own hydrometer"    // Text the name of the author's own instrument
	SetThermometer = "thermometer error" // Value °C that it reads too high
	SetAllReadings = "for all"           // Type of an entry that holds for what was read before it too
)

// AwayPause in the place of a name says that nobody minds the batches of a holiday:
// reminders rest.
const AwayPause = "pause"

// defaultPlan is what a kind asks for where nothing else is said (common practice,
// no source).
func defaultPlan(k Kind) Plan {
	p := Plan{RackAt: 1.010, RackFrom: "default", CheckDay: 7, CheckFrom: "default",
		Intervals: map[string]time.Duration{}, From: map[string]string{}, Muted: map[string]bool{}, Flags: map[string]bool{}}
	switch k {
	case Mead:
		p.CheckDay = 10
	case Red:
		p.RackAt = 1.000
	}
	return p
}

// applySettings folds the settings of the house and then of the batch into its
// plan; within each the newest typed wins, the household's word over the sheet's.
func (p *Plan) applySettings(es []Entry) {
	for i := range es {
		e := &es[i]
		if e.Quantity == QSetting {
			p.apply(*e)
		}
		if e.Quantity == QTargetSG && e.Has {
			p.Flags["target"] = true
		}
	}
}

func (p *Plan) apply(e Entry) {
	on := e.Text != "off"
	switch e.Key {
	case SetRackAt:
		if e.Text == "sheet" && p.RackFrom == "house" {
			return
		}
		p.RackAt, p.RackFrom = e.Value, orHouse(e.Text)
	case SetCheckDay:
		if e.Text == "sheet" && p.CheckFrom == "house" {
			return
		}
		p.CheckDay, p.CheckFrom = int(e.Value), orHouse(e.Text)
	case SetSheetLow:
		p.Sheet.Low = e.Value
	case SetSheetHigh:
		p.Sheet.High = e.Value
	case SetInterval:
		if e.Text == "sheet" && p.From[e.Material] == "house" {
			return
		}
		p.Intervals[e.Material] = time.Duration(e.Value * float64(time.Hour))
		p.From[e.Material] = orHouse(e.Text)
	case SetMute:
		p.Muted[e.Material] = on
	case SetMinder:
		p.Minder = e.Text
	case SetMeantSweet:
		p.MeantSweet = on
	case SetMeantFizzy:
		p.MeantFizzy = on
	case SetDryEnough:
		p.DryEnough = on
	case SetMLF:
		p.MLF = e.Text
	case SetPulp:
		p.Flags["pulp"], p.Flags["no pulp"] = on, !on
	case SetFlag:
		p.flag(e.Material, on)
	}
}

func (p *Plan) flag(name string, on bool) {
	switch name {
	case "no lees":
		p.NoLees = on
	case "no hydrometer":
		p.NoHydrometer = on
	case "no meter":
		p.NoMeter = on
	case "by the sheet":
		p.BySheet = on
	case "no sorbate":
		p.Sorbate = "unwanted"
	}
	p.Flags[name] = on
}

func orHouse(from string) string {
	if from == "sheet" {
		return from
	}
	return "house"
}

// House is what holds for every batch: folded from the entries of batch 0.
type House struct {
	Units    string // metric, us, uk
	ZoneName string
	Gallon   string // "US gal" or "imp gal" once answered
	BottleML float64
	Quiet    string
	Bundle   string
	YearL    float64
	Flags    map[string]bool
	Muted    map[string]bool
	Minder   string
	StirAt   []int // minutes after midnight; nil: not set
	Interval map[string]time.Duration
	Remind   []Entry

	Hydrometers []Hydrometer // the house's own first
}

// FoldHouse folds the house's entries; es may be in any order.
func FoldHouse(es []Entry) House {
	h := House{Units: "metric", BottleML: 750, Quiet: "21:30-07:30", Bundle: "18:30",
		Flags: map[string]bool{}, Muted: map[string]bool{}, Interval: map[string]time.Duration{}}
	sorted := append([]Entry(nil), es...)
	Sort(sorted, time.UTC)
	for _, e := range sorted {
		if e.Quantity == QSetting {
			h.apply(e)
		}
	}
	h.Hydrometers = hydrometersOf(es)
	return h
}

func (h *House) apply(e Entry) {
	switch e.Key {
	case SetUnits:
		h.Units = e.Text
	case SetZone:
		h.ZoneName = e.Text
	case SetGallon:
		h.Gallon = e.Text
	case SetBottleML:
		h.BottleML = e.Value
	case SetQuiet:
		h.Quiet = e.Text
	case SetBundle:
		h.Bundle = e.Text
	case SetYearLimit:
		h.YearL = e.Value
	case SetMinder:
		h.Minder = e.Text
	case SetMute:
		h.Muted[e.Material] = e.Text != "off"
	case SetFlag:
		h.Flags[e.Material] = e.Text != "off"
	case SetInterval:
		h.Interval[e.Material] = time.Duration(e.Value * float64(time.Hour))
	case SetRemind:
		h.Remind = append(h.Remind, e)
	case SetStirAt:
		h.StirAt = nil
		for _, c := range strings.Split(e.Text, ",") {
			if m, ok := Clock(c); ok {
				h.StirAt = append(h.StirAt, m)
			}
		}
	}
}

// Clock reads "21:30" as minutes after midnight; false where it is none.
func Clock(s string) (minutes int, ok bool) {
	h, m, found := strings.Cut(strings.TrimSpace(s), ":")
	if !found {
		return 0, false
	}
	hh, err1 := strconv.Atoi(h)
	mm, err2 := strconv.Atoi(m)
	if err1 != nil || err2 != nil || hh < 0 || hh > 23 || mm < 0 || mm > 59 {
		return 0, false
	}
	return hh*60 + mm, true
}
