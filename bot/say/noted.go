package say

import (
	"fmt"
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/dose"
)

// Begun answers a new batch.
func (s Style) Begun(b *ferment.State) []string {
	l := Title(b.Name) + ": begun"
	if b.VolumeL > 0 {
		l += ", " + s.Volume(b.VolumeL)
	}
	lines := []string{l, fmt.Sprintf("no %d, %s", b.N, b.Kind)}
	if b.Serial != "" {
		lines = append(lines, "serial "+Clip(b.Serial, 24))
	}
	return append(lines, "Read the gravity before the yeast")
}

// Pitched answers the yeast. asks is when its start will be asked after; zero: not.
func (s Style) Pitched(b *ferment.State, at time.Time, again bool, asks time.Time) []string {
	what := "yeast in"
	if again {
		what = "fresh yeast in"
	}
	lines := []string{fmt.Sprintf("%s: %s, %s", Title(b.Name), what, s.Moment(at))}
	if t := newestTemp(b); t != nil && t.C > 32 {
		lines = append(lines, fmt.Sprintf("%s is too warm for yeast.", s.Temp(t.C)), "Cool to "+s.Temp(24)+" first; lid on.")
	}
	if b.OG == 0 {
		lines = append(lines, "No start gravity: a reading now counts")
	}
	if asks.After(s.Now) {
		lines = append(lines, "I ask on "+s.Moment(asks))
	}
	return lines
}

func newestTemp(b *ferment.State) *ferment.Temperature {
	if len(b.Temps) == 0 {
		return nil
	}
	return &b.Temps[len(b.Temps)-1]
}

// Noted answers a deed, an addition or a note: what the book now says.
func (s Style) Noted(b *ferment.State, es []ferment.Entry, next []Next) []string {
	name := "house"
	if b != nil {
		name = Title(b.Name)
	}
	lines := Wrap(name + ": " + s.Done(es))
	if len(lines) > 3 {
		lines = append(lines[:2], "…")
	}
	if len(es) > 0 {
		if es[0].DayOnly || s.Now.Sub(es[0].At) > time.Hour {
			when := s.Day(es[0].At)
			if !es[0].DayOnly {
				when = s.Moment(es[0].At)
			}
			lines = append(lines, "for "+when)
		}
	}
	if b == nil {
		return lines
	}
	if l := s.wanted(b, es); l != "" {
		return append(lines, Wrap(l)...)
	}
	if n := s.NextLine(next, Outlook{}); n != "" {
		lines = append(lines, n)
	}
	return lines
}

// Done tells in words what entries say was done, measured or put in. Where there are
// several deeds, each stands before what was counted or measured with it.
func (s Style) Done(es []ferment.Entry) string {
	for i := 1; i < len(es); i++ {
		if before, e := es[i-1].Deed, es[i].Deed; e != before && saysMore(before) && saysMore(e) {
			return s.Done(es[:i]) + ", " + s.Done(es[i:])
		}
	}
	var parts []string
	deed := ""
	for _, e := range es {
		if p := s.entry(e); p != "" {
			parts = append(parts, p)
		}
		if saysMore(e.Deed) {
			deed = e.Deed
		}
	}
	if deed != "" && (len(parts) == 0 || parts[0] != deed) {
		parts = append([]string{deed}, parts...)
	}
	if len(parts) == 0 && len(es) > 0 && es[0].Quantity == ferment.QSetting {
		parts = append(parts, s.setTo(es[0]))
	}
	return strings.Join(parts, ", ")
}

// wanted holds a pH or a sulphite test against what the wine needs: free SO2 for
// 0.8 mg/L molecular, by the customary pK 1.81 (Waterhouse et al., ch. 17).
func (s Style) wanted(b *ferment.State, es []ferment.Entry) string {
	asked := false
	for _, e := range es {
		asked = asked || e.Quantity == ferment.QPH || e.Quantity == ferment.QFreeSO2
	}
	if asked && b.PH != nil && b.PH.Value < 3 && b.Stop.Shown.IsZero() {
		return "Under 3.0 yeast labours: potassium bicarbonate 0.5 g a litre, stir, read again"
	}
	if !asked || b.PH == nil || b.Pitched.IsZero() || b.MLFOpen() {
		return ""
	}
	f, err := dose.FreeForMolecular(dose.MolecularTarget, b.PH.Value, 0.05)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("At pH %s it wants about %.0f mg/L free", s.Number(b.PH.Value, 2), float64(f.Free))
}

// saysMore reports a deed whose word adds to what its entries say.
func saysMore(deed string) bool {
	switch deed {
	case "", ferment.DeedAddition, ferment.DeedNote, ferment.DeedSerial, ferment.DeedLot, ferment.DeedFault, ferment.DeedTarget:
		return false
	}
	return true
}

// entry renders one entry as the book holds it: digits as typed.
func (s Style) entry(e ferment.Entry) string {
	amount := amountOf(e.Typed, e.Unit, e.Value)
	switch e.Quantity {
	case ferment.QAddition:
		if amount == "" {
			if strings.HasPrefix(e.Material, "packet ") { // the kit has measured it
				return Clip(e.Material, 24)
			}
			amount = "some"
		}
		return amount + " " + Clip(e.Material, 24)
	case ferment.QTopping:
		return strings.TrimSpace(amount + " " + Clip(e.Material, 24))
	case ferment.QEvent:
		return e.Deed
	case ferment.QNote, ferment.QFault:
		return "“" + Clip(e.Text, 60) + "”"
	case ferment.QKitSerial:
		return "serial " + Clip(e.Text, 24)
	case ferment.QKitLot:
		return "lot " + Clip(e.Text, 24)
	case ferment.QKitBest:
		return "best before " + Clip(e.Text, 24)
	case ferment.QYeastLot:
		return "yeast lot " + Clip(e.Text, 24)
	case ferment.QPlace:
		return "in " + Clip(e.Text, 24)
	case ferment.QName:
		return "named " + Clip(e.Text, 24)
	case ferment.QNewBatch, ferment.QSetting, ferment.QParent:
		return ""
	case ferment.QBlend:
		return cameIn(e, amount)
	case ferment.QAmbient:
		return "room " + amount
	case ferment.QInstrument:
		return strings.TrimSpace(Clip(ferment.InstrumentName(e.Instrument), 14) + " hydrometer " + amount + " in water")
	}
	if ferment.IsGravity(e.Quantity) {
		return amount
	}
	if e.Unit == "bottle" || e.Unit == "half bottle" {
		return bottleWord(e)
	}
	if e.Deed == ferment.DeedDrawn {
		return amount
	}
	return strings.TrimSpace(quantityWord(e.Quantity) + " " + amount)
}

// bottleWord counts bottles: "28 bottles", "1 half bottle", "26 left".
func bottleWord(e ferment.Entry) string {
	n := fmt.Sprintf("%.0f %s", e.Value, e.Unit)
	if e.Value != 1 {
		n += "s"
	}
	if e.Quantity == ferment.QBottlesLeft {
		n += " left"
	}
	return n
}

func quantityWord(q ferment.Quantity) string {
	words := map[ferment.Quantity]string{ferment.QPH: "pH", ferment.QTA: "acid", ferment.QFreeSO2: "free SO2", ferment.QTotalSO2: "total SO2",
		ferment.QVolumeLoss: "lost", ferment.QVesselSize: "vessel", ferment.QTargetSG: "target",
		ferment.QBottlesLeft: "left", ferment.QBottlesOut: "gone", ferment.QABV: "alcohol", ferment.QDuration: "for"}
	return words[q]
}

// amountOf is an amount as typed with the word for its unit: "900 g", "2 tablets".
func amountOf(typed, unit string, v float64) string {
	word := unitWord(unit)
	if counted(unit) && v != 1 && v != 0 {
		word += "s"
	}
	return strings.TrimSpace(typed + " " + word)
}

// counted reports a unit that is a thing: a tablet, and whatever else the household
// counted by a noun of its own, like a sachet.
func counted(unit string) bool {
	switch unit {
	case "sg", "Bx", "Blg", "Oe", "Be", "KMW", "C", "F", "pH", "g/L", "g/100mL", "mg/L", "%vol", "L", "mL", "cL", "dL", "hL", "US gal", "imp gal", "g", "kg", "oz", "lb", "tsp", "min", "":
		return false
	}
	return true
}

func unitWord(u string) string {
	switch u {
	case "sg", "pH":
		return ""
	case "C", "F":
		return "°" + u
	case "imp gal":
		return "gal"
	case "imp pint":
		return "pint"
	}
	return u
}

// TakenBack answers an undo.
func TakenBack(s Style, name string, es []ferment.Entry) []string {
	var parts []string
	for _, e := range es {
		p := s.entry(e)
		if e.DayOnly || s.Now.Sub(e.At) > 12*time.Hour {
			if p != "" && ferment.IsGravity(e.Quantity) {
				p += " of " + s.Day(e.At)
			}
		}
		switch {
		case e.Quantity == ferment.QNewBatch:
			p = "its beginning"
		case e.Deed == ferment.DeedDrawn && len(es) > 1:
			p = "" // told with the batch that it went into
		}
		if e.Quantity == ferment.QSetting {
			p = s.setTo(e)
		}
		if p != "" {
			parts = append(parts, p)
		}
	}
	if d := es[0].Deed; saysMore(d) && es[0].Quantity != ferment.QEvent && es[0].Quantity != ferment.QBlend && es[0].Quantity != ferment.QInstrument {
		parts = append([]string{d}, parts...)
	}
	said := Title(name) + ": " + strings.Join(parts, ", ")
	if name == House && len(parts) > 0 {
		said = strings.ToUpper(parts[0][:1]) + strings.TrimPrefix(said, House+": ")[1:]
	}
	if lines := Wrap(said + " taken back"); len(lines) < Depth {
		return lines
	}
	return []string{fmt.Sprintf("%s: %s taken back", Title(name), plural(len(es), "line")), "all that one message put in the book"}
}
