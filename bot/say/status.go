package say

import (
	"fmt"
	"strings"
	"time"

	"mustbook/ferment"
)

// actAfter is how long a start may take before something is done about it (common
// practice, no source).
const actAfter = 72 * time.Hour

// Status tells where a batch stands.
func (s Style) Status(b *ferment.State, o Outlook, next []Next) []string {
	l1 := fmt.Sprintf("%s, %s: %s", Title(b.Name), s.DayOf(b, s.Now), b.Stage)
	if b.Stage == ferment.Lag {
		o = Outlook{} // what has not begun has no day to end
	}
	v, w := s.verdict(b, o), s.watch(b)
	if v != "" && v != "stopped" && (w == "" || v == "stuck") {
		l1 += ", " + v
	}
	if w != "" && len([]rune(l1))+2+len([]rune(w)) <= Width {
		l1 += ", " + w
	}
	var l2 string
	switch {
	case b.Stage == ferment.Bottled:
		l2 = fmt.Sprintf("%d of %d bottles left", b.BottlesLeft, b.BottlesMade)
	case b.Last != nil:
		l2 = fmt.Sprintf("%s %s", s.SG(b.Last.SG), s.On(b.Last.At))
		switch {
		case b.Last.Entry.Root == b.OGRoot && s.SG(b.Last.SG) == s.SG(b.OG) && !b.Pitched.IsZero():
			l2 = "start " + l2
		case b.OG > 0 && !b.Pitched.IsZero():
			l2 += ", from " + s.SG(b.OG)
		}
	default:
		l2 = "No gravity yet"
	}
	l3 := ""
	if b.SugarKnown && b.Stage != ferment.Bottled && !nothingGone(b) {
		l3 = fmt.Sprintf("%s of sugar gone", s.Share(b.Gone))
		if b.VolumeL > 0 {
			l3 += ", " + s.Volume(b.VolumeL)
		}
	} else if b.VolumeL > 0 && b.Stage != ferment.Bottled {
		l3 = s.Volume(b.VolumeL)
	}
	l4 := ""
	if !b.Pitched.IsZero() {
		l4 = s.soFar(b)
	}
	if b.Stage == ferment.Lag && l4 == "" && s.Now.Sub(b.Pitched) < actAfter {
		l4 = "No sign is normal for up to 3 days"
	}
	return []string{l1, l2, l3, l4, s.NextLine(next, o)}
}

// watch is the gravest thing to watch beside how the ferment goes.
func (s Style) watch(b *ferment.State) string {
	if b.Stage == ferment.Bottled && b.Has(ferment.Unsafe) {
		return "NOT safe"
	}
	for _, c := range []ferment.Condition{ferment.Geranium, ferment.TooHot, ferment.TooCold, ferment.Malolactic, ferment.Headspace, ferment.Sweet} {
		if b.Has(c) {
			return string(c)
		}
	}
	return ""
}

// List is one line a batch that still holds wine.
func (s Style) List(bs []*ferment.State) []string {
	var lines []string
	for _, b := range bs {
		if b.Stage == ferment.Empty {
			continue
		}
		l := fmt.Sprintf("%d %s: %s", b.N, Title(b.Name), b.Stage)
		switch {
		case b.Stage == ferment.Bottled:
			l += fmt.Sprintf(", %d left", b.BottlesLeft)
		case b.Last != nil:
			l += fmt.Sprintf(", %s %s", s.SG(b.Last.SG), s.Day(b.Last.At))
		}
		lines = append(lines, l)
	}
	switch {
	case lines == nil && len(bs) > 0:
		return append([]string{"Nothing left; " + plural(len(bs), "wine") + " finished"}, s.NoBatches()[1:]...)
	case lines == nil:
		return s.NoBatches()
	}
	return lines
}

// UnitsName is what a set of units is called.
func UnitsName(units string) string {
	if len(units) == 2 {
		return strings.ToUpper(units)
	}
	return units
}

// Settings tells what the house is served with.
func (s Style) Settings(h ferment.House, zone *time.Location) []string {
	gallon := h.Gallon
	if gallon == "" {
		gallon = map[string]string{"us": "US gal", "uk": "imp gal"}[h.Units]
	}
	lines := []string{"Units " + UnitsName(h.Units) + ", zone " + zone.String(), "Bottle " + s.Volume(h.BottleML/1000) + ", quiet " + h.Quiet}
	switch {
	case s.Comma && gallon != "":
		lines = append(lines, "Decimal comma, gallon: "+gallon)
	case s.Comma:
		lines = append(lines, "Decimal comma")
	case gallon != "":
		lines = append(lines, "Gallon: "+gallon)
	}
	for i, x := range h.Hydrometers {
		if l := s.hydrometerLine(x); i < 3 && l != "" {
			lines = append(lines, l)
		}
	}
	if len(lines) > 3 {
		return lines
	}
	other := "Type: units us · zone Europe/Dublin"
	if h.Units == "us" {
		other = "Type: units metric · zone America/Chicago"
	}
	return append(lines, other, "hydrometer 60f · bottle size 500 ml")
}

// Step is a thing to do with one of several batches; Batch is empty for the house.
type Step struct {
	Batch string
	Next  Next
}

// Week lists steps in their order, as many as an answer holds.
func (s Style) Week(items []Step) []string {
	if len(items) == 0 {
		return []string{"Nothing due this week"}
	}
	var lines []string
	for i, it := range items {
		if i == Depth-1 && len(items) > Depth {
			return append(lines, fmt.Sprintf("and %d more: what next, with its name", len(items)-i))
		}
		l := s.step(it.Next)
		if it.Batch != "" {
			l = Title(it.Batch) + ": " + inSentence(l)
		}
		lines = append(lines, Clip(l, Width))
	}
	return lines
}

// inSentence is a text as it goes on behind a colon: what is written large stays so.
func inSentence(t string) string {
	if len(t) > 1 && t[1] >= 'A' && t[1] <= 'Z' {
		return t
	}
	return lowerFirst(t)
}

// step is one thing to do with its day.
func (s Style) step(n Next) string {
	switch {
	case n.Due.IsZero() && n.What == "R40":
		return "At the end of its best time"
	case n.Due.IsZero() || strings.HasSuffix(n.Do, "?"):
		return n.Do
	case n.What == "R40":
		return n.Do + " " + n.Due.In(s.zone()).Format("Jan 2006")
	}
	return n.Do + " " + s.Day(n.Due)
}

// NextSteps lists what is next with one batch.
func (s Style) NextSteps(b *ferment.State, next []Next) []string {
	lines := []string{fmt.Sprintf("%s, %s", Title(b.Name), b.Stage)}
	for i, n := range next {
		if i == Depth-1 {
			break
		}
		lines = append(lines, s.step(n))
	}
	if len(next) == 0 {
		lines = append(lines, "Nothing due")
	}
	return lines
}

// historyLines is how many lines a history shows; the rest is on the sheet.
const historyLines = 15

// History lists what the book holds of a batch, the newest last.
func (s Style) History(b *ferment.State, es []ferment.Entry) []string {
	sorted := append([]ferment.Entry(nil), es...)
	ferment.Sort(sorted, s.zone())
	var lines []string
	for _, e := range sorted {
		t := s.entry(e)
		if e.Quantity == ferment.QNewBatch {
			t = "begun"
		}
		if e.Quantity == ferment.QSetting {
			t = "set: " + s.setTo(e)
		}
		if t == "" {
			continue
		}
		if e.Deed != "" && e.Deed != t && e.Quantity != ferment.QEvent && e.Deed != ferment.DeedAddition {
			t = e.Deed + ", " + t
		}
		if e.Quantity == ferment.QTemp && e.Of != 0 {
			t = "at " + t
		}
		when := e.At.In(s.zone()).Format("2 Jan 15:04")
		if e.DayOnly {
			when = e.At.In(s.zone()).Format("2 Jan")
		}
		lines = append(lines, when+" "+t+" ("+Clip(e.AuthorName, 8)+")")
	}
	head := fmt.Sprintf("%s, no %d, %s", Title(b.Name), b.N, b.Kind)
	if n := len(lines); n > historyLines {
		head += fmt.Sprintf(", last %d of %d", historyLines, n)
		lines = lines[n-historyLines:]
	}
	return append([]string{head}, lines...)
}

// Why tells how the figures came about.
func (s Style) Why(b *ferment.State) []string {
	var typed, start, left, agree string
	if b.Last != nil {
		typed = fmt.Sprintf("%s typed is %s at %s", Clip(b.Last.Entry.Typed, 10), s.fixed(float64(b.Last.SG), 4), s.Temp(20))
		if b.Last.Worked {
			typed = fmt.Sprintf("%s of its parts, nobody read it yet", s.fixed(float64(b.Last.SG), 4))
		}
	}
	if b.OG > 0 {
		start = fmt.Sprintf("start %s: %s", s.fixed(float64(b.OG), 4), ogWord(b.OGSource))
	}
	if b.SugarKnown {
		left = fmt.Sprintf("sugar left %s ± %s by balance", s.PerLitre(b.SugarLeft), s.Number(b.SugarDoubt, 0))
	}
	if b.Stop.Verdict != ferment.StopNo {
		agree = fmt.Sprintf("%d readings agree since %s", b.Stop.N, s.Day(b.Stop.From))
		if b.SugarKnown {
			left = fmt.Sprintf("sugar left %s ± %s; %d readings agree", s.PerLitre(b.SugarLeft), s.Number(b.SugarDoubt, 0), b.Stop.N)
			agree = ""
		}
	}
	if typed+start+left+agree+s.BothWays(b) == "" {
		return []string{Title(b.Name) + ": nothing measured yet", "Type it like: sg 1.070 at " + s.SomeTemp()}
	}
	return Answer([]string{Title(b.Name) + ", how it is worked out:"}, typed, start, left, agree, s.BothWays(b), "Sources: OIML R 22, ICUMSA, Tabarié")
}

func ogWord(f ferment.OGSource) string {
	switch f {
	case ferment.OGExplicit:
		return "you gave it"
	case ferment.OGBeforePitch:
		return "last before the yeast"
	case ferment.OGAfterPitch:
		return "read just after the yeast"
	case ferment.OGAssumed:
		return "assumed"
	case ferment.OGBlend:
		return "of its parts, by balance"
	}
	return "of the must so far"
}

// SafeToBottle answers that the gate is open.
func (s Style) SafeToBottle(b *ferment.State) []string {
	if b.Plan.MeantFizzy {
		return s.safeFizzy(b)
	}
	if !b.Bottled.IsZero() {
		return []string{Title(b.Name) + ": bottled, and it was done", fmt.Sprintf("Stopped at %s, bottled %s", s.SG(b.Last.SG), s.Day(b.Bottled))}
	}
	return []string{Title(b.Name) + ": may be bottled",
		fmt.Sprintf("Stopped at %s, read %s", s.SG(b.Last.SG), s.Day(b.Last.At)), "Gas out, clear, SO2 checked first"}
}

// SheetLines holds day one's gravity against the kit's sheet.
func (s Style) SheetLines(b *ferment.State) []string {
	switch b.Sheet {
	case ferment.SheetInside:
		return []string{fmt.Sprintf("%s is inside it", s.SG(b.OG))}
	case ferment.SheetUnder:
		return []string{fmt.Sprintf("%s is under it. Stir hard 2 minutes,", s.SG(b.OG)), "read again; add no sugar before that"}
	case ferment.SheetOver:
		return []string{fmt.Sprintf("%s is over it. Topped to the mark?", s.SG(b.OG)), "Stir, read again before adding water"}
	}
	return nil
}

// LastDid answers who did something last and when; with no deed, the newest of all.
func (s Style) LastDid(b *ferment.State, deed string) []string {
	d, ok := b.Did(deed)
	if deed == "" && len(b.Deeds) > 0 {
		d, ok = b.Deeds[len(b.Deeds)-1], true
	}
	if !ok {
		return []string{Title(b.Name) + ": nothing like that noted"}
	}
	when := s.Moment(d.At)
	if d.Day {
		when = s.Day(d.At)
	}
	return []string{fmt.Sprintf("%s: %s %s", Title(b.Name), d.What, when), "by " + Clip(d.By, 20)}
}
