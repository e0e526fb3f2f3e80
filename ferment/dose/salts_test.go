package dose

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"mustbook/ferment/liquid"

	"pgregory.net/rapid"
)

// OIV-MA-AS323-04C, table I: every printed cell.
func TestPKTTable(t *testing.T) {
	f, err := os.Open("../../testdata/tables/so2_pkt.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 5 {
		t.Fatal(len(rows), err)
	}
	number := func(s string) float64 { return must(strconv.ParseFloat(s, 64))(t) }
	for _, row := range rows[1:] {
		for i, cell := range row[1:] {
			at := number(rows[0][i+1][:2])
			got := must(PKT(liquid.PercentVol(number(row[0])), liquid.Celsius(at)))(t)
			near(t, row[0]+" % at "+rows[0][i+1], got, number(cell), 1e-9)
		}
	}
	near(t, "cellar: the column of 20 °C", must(PKT(10, 12))(t), 1.997, 1e-9)
	_, err = PKT(15.1, 20)
	refused(t, "strong", err)
	_, err = PKT(10, 41)
	refused(t, "hot", err)
}

// The trade's table of free SO2 for 0.5, 0.6, 0.8 mg/L molecular, by pK 1.81; its 0.8
// column agrees with a teaching handout, Sulfur Dioxide Additions, within 1.
func TestFreeForMolecular(t *testing.T) {
	for pH, want := range map[float64][3]float64{
		3.0: {8, 10, 13}, 3.1: {10, 12, 16}, 3.2: {13, 15, 20}, 3.3: {16, 19, 26}, 3.4: {20, 24, 32},
		3.5: {25, 30, 40}, 3.6: {31, 38, 50}, 3.7: {39, 47, 63}, 3.8: {49, 59, 79},
	} {
		for i, target := range []liquid.MilligramsPerLitre{0.5, 0.6, 0.8} {
			near(t, "free SO2", must(FreeForMolecular(target, pH, 0))(t).Free, want[i], 0.55)
		}
	}
	s := must(FreeForMolecularOIV(0.8, 3.4, 0.1, 12, 20))(t)
	near(t, "low", s.Low, 26, 0.5)
	near(t, "high", s.High, 40, 0.5)
	warned(t, s.Warnings, RoughPH, true)
	if s.OIV >= s.Free || s.OIV <= 0 {
		t.Errorf("the OIV way is the lower one: %+v", s)
	}
	warned(t, must(FreeForMolecular(0.8, 2.9, 0))(t).Warnings, LowPH, true)
	for _, pH := range []float64{2.6, 4.4, math.NaN()} {
		_, err := FreeForMolecular(0.8, pH, 0)
		refused(t, "pH", err)
	}
	_, err := Molecular(-1, 3.4)
	refused(t, "free", err)
	_, err = FreeForMolecularOIV(0.8, 3.4, 0, 16, 20)
	refused(t, "OIV, strong", err)
}

// By hand, mg/L·L ÷ 576: 50 in 23 L 2.0 g, 30 in 23 L 1.2 g, 50 in 4.55 L 0.39 g; the
// sodium salt ÷ 674. 6 g in 23 L are 150 mg/L.
func TestSulphite(t *testing.T) {
	near(t, "50 in 23", must(SulphiteFor(23, 50, 0, PotassiumSalt))(t).Grams, 2.0, 0.005)
	near(t, "30 in 23", must(SulphiteFor(23, 30, 0, PotassiumSalt))(t).Grams, 1.2, 0.005)
	small := must(SulphiteFor(4.55, 50, 0, PotassiumSalt))(t)
	near(t, "50 in 4.55", small.Grams, 0.39, 0.006)
	warned(t, small.Warnings, TooSmallToWeigh, true)
	near(t, "sodium", must(SulphiteFor(23, 50, 0, SodiumSalt))(t).Grams, 50*23/674.0, 1e-9)
	big := must(SulphiteOf(23, 6, 20, PotassiumSalt))(t)
	near(t, "6 g", big.Adds, 150, 0.5)
	near(t, "total", big.Total, 170, 0.5)
	warned(t, big.Warnings, LargeSulphite, true)
	warned(t, big.Warnings, HighTotalSulphite, true)
	_, err := SulphiteFor(23, 501, 0, PotassiumSalt)
	refused(t, "dose", err)
	_, err = SulphiteFor(23, 50, 0, "")
	refused(t, "salt", err)
	_, err = SulphiteOf(0, 5, 0, PotassiumSalt)
	refused(t, "volume", err)
}

// A leaflet: one tablet in 4.5 L is 50 to 67 mg/L.
func TestTablets(t *testing.T) {
	one := must(TabletsOf(4.5, 1))(t)
	near(t, "low", one.Low, 50, 1e-9)
	near(t, "high", one.High, 67, 1e-9)
	n := must(TabletsFor(4.5, liquid.MilligramsPerLitre(one.Value)))(t)
	near(t, "back", n.Value, 1, 1e-9)
	warned(t, n.Warnings, TabletsVary, true)
	_, err := TabletsOf(4.5, -1)
	refused(t, "tablets", err)
}

// By hand: 23 L·0.25 g/L = 5.75 g; the cap of 200 mg/L sorbic acid (OIV II.3.4.5) is
// 268 mg/L of the salt.
func TestSorbate(t *testing.T) {
	s := must(SorbateFor(23, SorbateUsual, 0, false))(t)
	near(t, "usual", s.Grams, 5.75, 1e-9)
	warned(t, s.Warnings, NeedsSulphite, true)
	warned(t, s.Warnings, SorbateCapped, false)
	s = must(SorbateFor(10, 400, 0, false))(t)
	near(t, "cap", s.Salt, 268, 0.05)
	near(t, "sorbic", s.Sorbic, 200, 1e-6)
	warned(t, s.Warnings, SorbateCapped, true)
	s = must(SorbateFor(10, 200, 300, false))(t)
	near(t, "nothing more", s.Grams, 0, 0)
	s = must(SorbateFor(10, 200, 0, true))(t)
	near(t, "malolactic", s.Grams, 0, 0)
	warned(t, s.Warnings, Geranium, true)
	_, err := SorbateFor(10, 1001, 0, false)
	refused(t, "sorbate", err)
}

func TestSulphiteInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := liquid.Litres(rapid.Float64Range(0.5, 500).Draw(t, "v"))
		mg := liquid.MilligramsPerLitre(rapid.Float64Range(0, 490).Draw(t, "mg/L"))
		salt := rapid.SampledFrom([]Salt{PotassiumSalt, SodiumSalt}).Draw(t, "salt")
		a, err := SulphiteFor(v, mg, 0, salt)
		if err != nil {
			t.Fatal(err)
		}
		b, err := SulphiteOf(v, a.Grams, 0, salt)
		if err != nil || math.Abs(float64(b.Adds-mg)) > 1e-9 {
			t.Fatalf("%v came back as %v, %v", mg, b.Adds, err)
		}
		pH := rapid.Float64Range(2.7, 4.2).Draw(t, "pH")
		target := liquid.MilligramsPerLitre(rapid.Float64Range(0.1, 2).Draw(t, "target"))
		f, err := FreeForMolecular(target, pH, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		if f.Free > 500 {
			return
		}
		m, err := Molecular(f.Free, pH)
		if err != nil || math.Abs(float64(m-target)) > 1e-12 || f.Low >= f.Free || f.High <= f.Free {
			t.Fatalf("%v came back as %v, %v, %+v", target, m, err, f)
		}
	})
}

// Handbook of Enology: 1 g/L as sulphuric is 1.53 as tartaric; AWRI and equivalent
// masses: per g of tartaric 0.8934 malic, 0.8534 citric, 1.2004 lactic, 0.6535
// sulphuric; acetic to sulphuric 0.8167.
func TestConvertAcidity(t *testing.T) {
	for _, c := range []struct {
		from, to Acid
		want     float64
	}{
		{Sulphuric, Tartaric, 1.53}, {Tartaric, Malic, 0.8934}, {Tartaric, Citric, 0.8534},
		{Tartaric, Lactic, 1.2004}, {Tartaric, Sulphuric, 0.6535}, {Acetic, Sulphuric, 0.8167},
	} {
		got := must(ConvertAcidity(1, c.from, c.to))(t)
		near(t, string(c.from)+" as "+string(c.to), got, c.want, 0.0004)
		near(t, "and back", must(ConvertAcidity(got, c.to, c.from))(t), 1, 1e-12)
	}
	near(t, "4.2 sulphuric", must(ConvertAcidity(4.2, Sulphuric, Tartaric))(t), 6.4, 0.05)
	_, err := ConvertAcidity(1, "oxalic", Tartaric)
	refused(t, "unknown acid", err)
	_, err = ConvertAcidity(51, Tartaric, Malic)
	refused(t, "too sour", err)
}

// Handbook of Enology, vol. 2: 1 g/L of potassium bicarbonate lowers acidity by 0.49
// g/L as sulphuric, 0.75 as tartaric; 1.334 g per g of tartaric.
func TestAcidDose(t *testing.T) {
	up := must(AcidUp(23, 5, 6.5, Tartaric, Tartaric))(t)
	near(t, "up", up.Grams, 34.5, 1e-9)
	near(t, "pH falls by 0.1 per g/L (bcawa.ca) ± 50 %", (up.PHLow+up.PHHigh)/2, -0.15, 1e-9)
	warned(t, up.Warnings, OverAcidLimit, false)
	warned(t, must(AcidUp(23, 5, 9.5, Tartaric, Tartaric))(t).Warnings, OverAcidLimit, true)
	warned(t, must(AcidUp(23, 8, 9.5, Tartaric, Tartaric))(t).Warnings, OverTotalAcid, true)
	near(t, "sulphuric basis", must(AcidUp(1, 3, 4, Sulphuric, Tartaric))(t).Grams, 1.53, 0.001)
	down := must(AcidDown(23, 8, 7, Tartaric))(t)
	near(t, "per litre", down.PerLitre, 1.334, 0.0005)
	near(t, "as sulphuric", must(AcidDown(1, 3, 3-0.49, Sulphuric))(t).Grams, 1, 0.001)
	if down.Low >= down.High || down.High != 7 {
		t.Errorf("bounds: %+v", down)
	}
	warned(t, must(AcidDown(23, 9, 7, Tartaric))(t).Warnings, TooMuchAtOnce, true)
	_, err := AcidUp(23, 6, 5, Tartaric, Tartaric)
	refused(t, "up is down", err)
	_, err = AcidDown(23, 5, 6, Tartaric)
	refused(t, "down is up", err)
	_, err = AcidUp(23, 5, 6, Tartaric, Sulphuric)
	refused(t, "sulphuric acid", err)
}
