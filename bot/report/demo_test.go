package report

import (
	"fmt"
	"time"

	"mustbook/bot/say"
	"mustbook/ferment"
)

var (
	yeast = time.Date(2026, 10, 3, 18, 0, 0, 0, time.UTC)
	today = time.Date(2027, 5, 2, 12, 0, 0, 0, time.UTC)
)

// house is a metric household, or a US one with its paper.
func house(us bool) Look {
	if us {
		return Look{Letter: true, Figures: say.Style{Units: "us"}}
	}
	return Look{Figures: say.Style{}}
}

func after(days float64) time.Time { return yeast.Add(time.Duration(days * 24 * float64(time.Hour))) }

func sg(days, v float64) ferment.Entry {
	return ferment.Entry{Quantity: ferment.QSG, Value: v, Has: true, Unit: "sg", Typed: fmt.Sprintf("%.3f", v), At: after(days)}
}

func did(days float64, what string) ferment.Entry {
	return ferment.Entry{Quantity: ferment.QEvent, Deed: what, At: after(days), AuthorName: "Ana"}
}

func added(days float64, what string, amount float64, unit string) ferment.Entry {
	return ferment.Entry{Quantity: ferment.QAddition, Deed: ferment.DeedAddition, Material: what, Value: amount, Has: true,
		Typed: fmt.Sprint(amount), Unit: unit, At: after(days)}
}

func word(days float64, q ferment.Quantity, text string) ferment.Entry {
	return ferment.Entry{Quantity: q, Text: text, At: after(days)}
}

// folded makes entries into a batch called by a name.
func folded(name string, es ...ferment.Entry) *ferment.State {
	es = append([]ferment.Entry{{Quantity: ferment.QNewBatch, Type: "country", Text: name, At: after(-1)}}, es...)
	for i := range es {
		es[i].ID, es[i].Root, es[i].Batch = int64(i+1), int64(i+1), 4
		if es[i].Message == 0 {
			es[i].Message = int64(i + 1)
		}
		es[i].TypedAt = es[i].At
	}
	return ferment.Fold(ferment.Input{N: 4, Entries: es, Zone: time.UTC, Now: today})
}

// damson is an invented batch with something in each part of the sheet.
func damson() *ferment.State {
	return folded("Damson 26", word(-0.9, ferment.QKitSerial, "K-4711"), word(-0.9, ferment.QKitLot, "L22"),
		ferment.Entry{Quantity: ferment.QVolume, Value: 9, Has: true, Unit: "L", At: after(-0.8)},
		sg(-0.1, 1.090), did(0, ferment.DeedPitched), added(-0.5, "sugar", 1.2, "kg"), added(1, "sugar", 300, "g"),
		sg(3, 1.058), ferment.Entry{Quantity: ferment.QTemp, Value: 24, Has: true, Unit: "C", Type: "sample", At: after(5)}, sg(5, 1.038),
		did(10, ferment.DeedRacked), sg(14, 0.996), sg(18, 0.995), sg(24, 0.995), did(24.1, ferment.DeedStabilised),
		added(24.1, "egg white", 2, "g"),
		word(30, ferment.QNote, "Tastes of plum stones, a little sharp; better next autumn"),
		did(180, ferment.DeedBottled), ferment.Entry{Quantity: ferment.QBottles, Value: 11, Has: true, At: after(180)})
}
