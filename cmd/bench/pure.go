package main

import (
	"bytes"
	"context"
	"image/png"
	"math"
	"time"

	"mustbook/bot/chart"
	"mustbook/ferment"
	"mustbook/ferment/forecast"
)

// forecasts measures one posterior and one with the test for a halt: a normal
// white at 18 °C, read every other day. Its baseline is the bare clock of the
// method: a fold of the same readings.
func forecasts(_ context.Context, b *bench) error {
	sg := []float64{1.090, 1.0795, 1.0555, 1.0335, 1.0180, 1.0085, 1.0025, 0.9990}
	for _, c := range []struct {
		what, aim string
		readings  int
		halt      bool
	}{
		{"forecast, one posterior, 4 readings", "≤ 10 ms", 4, false}, {"forecast, one posterior, 8 readings", "≤ 10 ms", 8, false},
		{"forecast with the stuck test, 5 readings", "≤ 40 ms", 5, true}, {"forecast with the stuck test, 7 readings", "≤ 40 ms", 7, true},
	} {
		in := forecast.Input{Targets: []float64{1.010, 1.000}, Temps: []forecast.Temperature{{Day: 0, C: 18, From: forecast.Must}}, Halt: c.halt}
		for i := range c.readings {
			in.Readings = append(in.Readings, forecast.Reading{Day: 2 * float64(i), SG: sg[i]})
		}
		t, err := repeat(b.size(60, 3), func() error { _, err := forecast.Run(in); return err })
		if err != nil {
			return err
		}
		fold, err := repeat(b.size(60, 3), func() error { example(sg[:c.readings]); return nil })
		if err != nil {
			return err
		}
		b.add(c.what, t.String(), c.aim, "fold of the same readings: "+fold.String())
	}
	return nil
}

// example is a folded batch read every other day.
func example(sg []float64) *ferment.State {
	begin := time.Date(2026, 10, 3, 18, 0, 0, 0, time.UTC)
	es := []ferment.Entry{{Quantity: ferment.QNewBatch, Type: string(ferment.White), Text: "white 26", At: begin},
		{Quantity: ferment.QEvent, Deed: ferment.DeedPitched, At: begin.Add(time.Hour)}}
	for i, v := range sg {
		at := begin.AddDate(0, 0, 2*i)
		es = append(es, ferment.Entry{Quantity: ferment.QSG, Value: v, Has: true, Unit: "sg", At: at},
			ferment.Entry{Quantity: ferment.QTemp, Value: 18, Has: true, Unit: "C", At: at, Type: "must"})
	}
	for i := range es {
		es[i].ID, es[i].Root, es[i].Message, es[i].Batch, es[i].TypedAt = int64(i+1), int64(i+1), int64(i+1), 1, es[i].At
	}
	return ferment.Fold(ferment.Input{N: 1, Entries: es, Zone: time.UTC, Now: begin.AddDate(0, 1, 0)})
}

// charts measures the picture of a batch with its band. Its baseline writes the
// finished picture as PNG once more and draws nothing.
func charts(_ context.Context, b *bench) error {
	s := example([]float64{1.090, 1.0795, 1.0555, 1.0335})
	band := &chart.Band{}
	for d := 0.0; d < 10; d += 0.5 {
		mid := 0.995 + 0.0385*math.Exp(-d/3)
		band.At = append(band.At, s.Last.At.Add(time.Duration(d*24)*time.Hour))
		band.Low, band.Mid, band.High = append(band.Low, mid-0.001*d), append(band.Mid, mid), append(band.High, mid+0.001*d)
	}
	var w bytes.Buffer
	t, err := repeat(b.size(100, 3), func() error {
		w.Reset()
		return chart.PNG(&w, []chart.Series{{State: s, Band: band}}, chart.Look{})
	})
	if err != nil {
		return err
	}
	img, err := png.Decode(bytes.NewReader(w.Bytes()))
	if err != nil {
		return err
	}
	base, err := repeat(b.size(100, 3), func() error { w.Reset(); return png.Encode(&w, img) })
	if err != nil {
		return err
	}
	b.add("chart", t.String(), "≤ 50 ms", "PNG of the finished picture alone: "+base.String())
	return nil
}
