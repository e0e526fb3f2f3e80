package chart

import (
	"math"
	"time"

	"mustbook/ferment"
)

// yeast is when the demo batches were pitched.
var yeast = time.Date(2026, 10, 3, 18, 0, 0, 0, time.UTC)

func after(days float64) time.Time { return yeast.Add(time.Duration(days * 24 * float64(time.Hour))) }

// demo is an invented batch: gravities on days since the yeast, with a
// temperature at each.
func demo(name string, days, sgs []float64, deeds map[float64]string) *ferment.State {
	return demoAt(name, yeast, days, sgs, deeds)
}

func demoAt(name string, begin time.Time, days, sgs []float64, deeds map[float64]string) *ferment.State {
	at := func(d float64) time.Time { return begin.Add(time.Duration(d * 24 * float64(time.Hour))) }
	es := []ferment.Entry{{Quantity: ferment.QNewBatch, Type: "country", Text: name, At: at(-0.1)},
		{Quantity: ferment.QEvent, Deed: ferment.DeedPitched, At: begin}}
	for i, d := range days {
		es = append(es, ferment.Entry{Quantity: ferment.QSG, Value: sgs[i], Has: true, Unit: "sg", At: at(d)},
			ferment.Entry{Quantity: ferment.QTemp, Value: 20 + math.Mod(d, 4), Has: true, Unit: "C", At: at(d), Type: "must"})
	}
	for d, what := range deeds {
		es = append(es, ferment.Entry{Quantity: ferment.QEvent, Deed: what, At: at(d)})
	}
	for i := range es {
		es[i].ID, es[i].Root, es[i].Message, es[i].Batch, es[i].TypedAt = int64(i+1), int64(i+1), int64(i+1), 1, es[i].At
	}
	return ferment.Fold(ferment.Input{N: 1, Entries: es, Zone: time.UTC, Now: at(400)})
}

// damson is the picture most households will see: three weeks, all doings.
func damson() *ferment.State {
	return demo("Damson 26", []float64{-0.05, 1, 2, 3.1, 4, 5, 7, 10, 14, 18, 21},
		[]float64{1.090, 1.082, 1.071, 1.058, 1.049, 1.038, 1.020, 1.006, 0.997, 0.995, 0.995},
		map[float64]string{2.2: ferment.DeedStirred, 5.1: ferment.DeedStrained, 10.1: ferment.DeedRacked,
			21.2: ferment.DeedStabilised, 21.9: ferment.DeedFined, 22.6: ferment.DeedDegassed, 200: ferment.DeedBottled})
}

// ahead is a band as the forecast would give it, from day 4 on.
func ahead(from float64) *Band {
	b := &Band{}
	for d := from; d <= 20; d += 0.5 {
		m := 0.994 + 0.055*math.Exp(-(d-from)/3.5)
		w := 0.012 * (1 - math.Exp(-(d-from)/2)) * math.Exp(-(d-from)/20)
		b.At = append(b.At, after(d))
		b.Low, b.Mid, b.High = append(b.Low, math.Max(m-w, 0.991)), append(b.Mid, m), append(b.High, m+w)
	}
	return b
}

func young() *ferment.State {
	return demo("Damson 26", []float64{-0.05, 1, 2, 3.1, 4}, []float64{1.090, 1.082, 1.071, 1.058, 1.049}, map[float64]string{2.2: ferment.DeedStirred})
}
