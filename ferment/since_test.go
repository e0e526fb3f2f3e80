package ferment

import (
	"math"
	"testing"
	"time"

	"mustbook/ferment/dose"
)

// page is a batch begun with 23 L that reads 1.090, is pitched, and reads 1.050 on the
// third day; more comes after it.
func page(more ...Entry) *State {
	day := func(d int) time.Time { return time.Date(2026, 9, 1+d, 9, 0, 0, 0, time.UTC) }
	es := []Entry{
		{Quantity: QNewBatch, Text: "quince", Type: string(White), At: day(0)},
		{Quantity: QVolume, Value: 23, Has: true, Unit: "L", At: day(0).Add(time.Minute)},
		{Quantity: QSG, Value: 1.090, Has: true, Unit: "sg", At: day(0).Add(time.Hour)},
		{Quantity: QEvent, Deed: DeedPitched, At: day(0).Add(2 * time.Hour)},
		{Quantity: QSG, Value: 1.050, Has: true, Unit: "sg", At: day(3)},
	}
	for i, e := range more {
		if e.At.IsZero() {
			e.At = day(3).Add(time.Duration(i+1) * time.Hour)
		}
		es = append(es, e)
	}
	return Fold(Input{N: 1, Entries: made(es...), Now: day(4)})
}

func added(material string, v float64, unit string) Entry {
	return Entry{Quantity: QAddition, Deed: DeedAddition, Material: material, Value: v, Has: true, Unit: unit}
}

func close3(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol {
		t.Errorf("%s: got %.5g, want %.5g ± %g", what, got, want, tol)
	}
}

// By hand from masses: 1 kg of sugar takes 0.62 L (27 CFR 24.181, 13.5 lb a gallon).
// 23 L of 1.050 weigh 24.11 kg, so 25.11 kg in 23.62 L read 1.065, and 5.3 % vol in 23 L
// are 5.2 in 23.62. The must of 1.090 holds 235 g/L, 5.41 kg; 6.41 kg in 23.62 L are 271
// g/L, 24.6 °Brix, 1.1035 in the table of N.B.S. circular C440.
func TestSugarIntoAFermentUntilItIsReadAgain(t *testing.T) {
	before, s := page(), page(added("sugar", 1, "kg"))
	close3(t, "before: alcohol", float64(before.ABV), 5.3, 0.1)
	close3(t, "would read", float64(s.Expected), 1.065, 0.0007)
	close3(t, "alcohol", float64(s.ABV), float64(before.ABV)*23/23.62, 0.06)
	close3(t, "original gravity", float64(s.OG), 1.1035, 0.0007)
	close3(t, "volume", s.VolumeL, 23.62, 0.01)
	close3(t, "sugar left", s.SugarLeft, (before.SugarLeft*23+1000)/23.62, 2)
	read := page(added("sugar", 1, "kg"), Entry{Quantity: QSG, Value: 1.065, Has: true, Unit: "sg"})
	close3(t, "read again: alcohol", float64(read.ABV), float64(s.ABV), 0.1)
	close3(t, "read again: would read", float64(read.Expected), 1.065, 1e-9)
}

// Honey holds 80 % sugar (common practice), a syrup two thirds: 1.25 kg and 1.5 kg
// bring the kilogram of sugar above, and water beside it, which thins.
func TestHoneyAndSyrupIntoAFerment(t *testing.T) {
	sugar := page(added("sugar", 1, "kg"))
	honey := page(added("honey", 1.25, "kg"))
	syrup := page(added("sugar syrup", 1.5, "kg"))
	for what, c := range map[string]struct {
		s     *State
		water float64
	}{"honey": {honey, 0.25}, "syrup": {syrup, 0.5}} {
		close3(t, what+": volume", c.s.VolumeL, sugar.VolumeL+c.water, 0.01)
		v := sugar.VolumeL
		close3(t, what+": would read", float64(c.s.Expected), (float64(sugar.Expected)*v+c.water)/(v+c.water), 0.0003)
		close3(t, what+": alcohol", float64(c.s.ABV), float64(sugar.ABV)*v/(v+c.water), 0.05)
	}
}

// A juice thins the alcohol whatever it holds: 5.3 % vol in 23 L are 4.4 in 28, and the
// mix of 23 L at 1.050 with 5 L of a juice taken as 1.050 reads 1.050.
func TestJuiceIntoAFerment(t *testing.T) {
	s := page(added("apple juice", 5, "L"))
	close3(t, "alcohol", float64(s.ABV), float64(page().ABV)*23/28, 0.07)
	close3(t, "would read", float64(s.Expected), 1.050, 0.0002)
	close3(t, "volume", s.VolumeL, 28, 1e-9)
	if s.ABVLeast || !page(added("grape concentrate", 1, "L")).ABVLeast {
		t.Error("a concentrate brings more than can be told, a juice does not")
	}
}

// 50 mg/L are 50 mg/L in whatever volume; 2 g of potassium metabisulphite of 57.6 % in
// 23 L are 50.1; a Campden tablet is the bench's own figure.
func TestSulphiteCountsHoweverItWasTyped(t *testing.T) {
	close3(t, "mg/L", page(added("sulphite", 50, "mg/L")).SO2Added, 50, 1e-9)
	close3(t, "grams", page(added("sulphite", 2, "g")).SO2Added, 50.1, 0.05)
	close3(t, "sodium salt, 67.4 %", page(added("sodium metabisulphite", 2, "g")).SO2Added, 58.6, 0.05)
	tablets, err := dose.TabletsOf(23, 4)
	if err != nil {
		t.Fatal(err)
	}
	close3(t, "tablets", page(added("campden", 4, "tablet")).SO2Added, tablets.Value, 1e-9)
	close3(t, "sorbate by mg/L", page(added("sorbate", 200, "mg/L")).Sorbate, 200, 1e-9)
}

// What goes into an unknown volume does not make one, but the water of a must does.
func TestUnknownVolumeStaysUnknown(t *testing.T) {
	fold := func(es ...Entry) *State {
		for i := range es {
			es[i].At = day0.Add(time.Duration(i) * time.Minute)
		}
		return fold(made(append([]Entry{begun(White)}, es...)...))
	}
	pitched := Entry{Quantity: QEvent, Deed: DeedPitched}
	topping := Entry{Quantity: QTopping, Material: "water", Value: 1, Has: true, Unit: "L", Deed: DeedToppedUp}
	for what, s := range map[string]*State{"sugar": fold(added("sugar", 1, "kg")), "water later": fold(pitched, added("water", 1, "L")), "top-up": fold(pitched, topping)} {
		if s.VolumeL != 0 {
			t.Errorf("%s into an unknown volume made %v L", what, s.VolumeL)
		}
	}
	if s := fold(added("water", 10, "L"), added("honey", 3, "kg")); math.Abs(s.VolumeL-(10+3*0.8*0.62+0.6)) > 0.02 {
		t.Errorf("10 L of water and 3 kg of honey make %v L", s.VolumeL)
	}
}

// Sugar into a dry wine counts whole: 72 g in 20 L are 3.6 g/L, though a wine that went
// down to 0.990 has less extract than the 22 g/L that count as no sugar. A reading that
// falls afterwards shows it fermenting away.
func TestSugarAfterItStoppedCountsWhole(t *testing.T) {
	es := []Entry{begun(White), {Quantity: QVolume, Value: 20, Has: true, Unit: "L", At: day0.Add(-30 * time.Minute)}, sg(-0.01, 1.085), did(0, DeedPitched),
		sg(9, 0.990), sg(11, 0.990), sg(13, 0.990)}
	sugar := added("priming sugar", 72, "g")
	sugar.At = day0.Add(13*24*time.Hour + time.Hour)
	s := fold(made(append(es, sugar)...))
	close3(t, "sugar", s.SugarLeft, 3.6, 0.05)
	close3(t, "gravity", float64(s.Expected), 0.990+0.0014, 0.0002)
	gone := fold(made(append(es, sugar, sg(20, 0.990))...))
	if gone.SugarLeft > 0.5 {
		t.Errorf("fermented again, %v g/L left", gone.SugarLeft)
	}
}
