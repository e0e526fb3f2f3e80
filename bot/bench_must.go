package bot

import (
	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// sugar answers sugar or honey up to a gravity: into a must by the sucrose table, into
// what works with its alcohol, into what has stopped as sweetening.
func (b *benched) sugar() ([]string, error) {
	from, to, err := b.gravities()
	if err != nil {
		return nil, err
	}
	what := "sugar"
	if b.in.Topic == parse.TopicHoneyTo {
		what = "honey"
	}
	switch {
	case say.SameStem(from, to) || to < from:
		return b.style.ThereAlready(b.s, from, to), nil
	case !b.s.Stop.Shown.IsZero():
		return b.sweeten()
	case b.working():
		return b.sugarWorking(what, from, to)
	case text(b.in.Args, "mode") == "final":
		return b.sugarFinal(what, from, to)
	}
	work := dose.SugarInto
	if what == "honey" {
		work = dose.HoneyInto
	}
	r, err := work(b.v, from, to)
	if err != nil {
		return nil, err
	}
	b.offer(label(what), ferment.DeedAddition, b.weighed(what, r.Grams))
	return b.style.SugarDose(b.s, what, r, from, to, b.second(what)), nil
}

func label(what string) string {
	return map[string]string{"sugar": say.SugarAdded, "honey": say.HoneyAdded}[what]
}

// sugarFinal answers for a volume that is to be made up: of all the must where there is
// room for water, else of a part of it.
func (b *benched) sugarFinal(what string, from, to liquid.Gravity) ([]string, error) {
	if what == "sugar" && b.v > liquid.Litres(b.s.VolumeL) && b.s.VolumeL > 0 {
		r, err := dose.MakeUp(liquid.Litres(b.s.VolumeL), from, b.v, to)
		if err != nil {
			return nil, err
		}
		b.offer(say.BothAdded, ferment.DeedAddition, b.weighed("sugar", r.Sugar), b.poured(ferment.QAddition, "water", r.Water))
		return b.style.MadeUpDose(b.s, r, from, to, b.second(what)), nil
	}
	work := dose.SugarForFinal
	if what == "honey" {
		work = dose.HoneyForFinal
	}
	r, err := work(b.v, from, to)
	if err != nil {
		return nil, err
	}
	if r.Must >= liquid.Litres(b.s.VolumeL)*0.98 { // all there is, else a part goes elsewhere
		b.offer(label(what), ferment.DeedAddition, b.weighed(what, r.Grams))
	}
	return b.style.SugarDose(b.s, what, r, from, to, b.second(what)), nil
}

func (b *benched) sugarWorking(what string, from, to liquid.Gravity) ([]string, error) {
	work := dose.SweetenTo
	share := 1.0
	if what == "honey" {
		work, share = dose.HoneyTo, dose.HoneySugar
	}
	r, err := work(b.all(), from, b.s.ABV, to)
	if err != nil {
		return nil, err
	}
	start := liquid.Gravity(0)
	if b.s.OG > 0 {
		if start, err = dose.StartWith(b.all(), b.s.OG, liquid.Grams(share)*r.Grams); err != nil {
			return nil, err
		}
	}
	b.offer(label(what), ferment.DeedAddition, b.weighed(what, r.Grams))
	return b.style.SugarWorking(b.s, what, r, from, start, b.second(what)), nil
}

func (b *benched) water() ([]string, error) {
	from, to, err := b.gravities()
	if err != nil {
		return nil, err
	}
	if say.SameStem(from, to) || from < to {
		return b.style.ThereAlready(b.s, from, to), nil
	}
	if b.s.Pitched.IsZero() {
		r, err := dose.WaterToLower(b.v, from, to)
		if err != nil {
			return nil, err
		}
		b.offer(say.WaterAdded, ferment.DeedAddition, b.poured(ferment.QAddition, "water", r.Litres))
		return b.style.WaterDose(b.s, r.Litres, r.Volume, from, to, 0), nil
	}
	r, litres, err := dose.WaterTo(b.v, from, b.s.ABV, to)
	if err != nil {
		return nil, err
	}
	b.offer(say.WaterAdded, ferment.DeedAddition, b.poured(ferment.QAddition, "water", litres))
	return b.style.WaterDose(b.s, litres, r.Volume, from, to, r.ABV), nil
}

// acid answers acid up and down. An acidity is reckoned, a pH only estimated.
func (b *benched) acid() ([]string, error) {
	if to, ok := number(b.in.Args, "ta"); ok {
		return b.acidity(to, b.in.Topic == parse.TopicAcidDown)
	}
	to, ok := number(b.in.Args, "ph")
	switch {
	case !ok && b.in.Topic == parse.TopicAcidDown:
		return nil, lack{what: "down to what?", example: "take acid down to 6"}
	case !ok:
		return nil, lack{what: "to what?", example: "acid to 6.5"}
	case b.s.PH == nil:
		return nil, errNoPH
	case to < b.s.PH.Value:
		lines, grams := b.style.AcidByPH(b.s, b.v, b.s.PH.Value, to, b.second("acid"))
		b.offer(say.AcidAdded, ferment.DeedAddition, b.weighed("tartaric acid", grams))
		return lines, nil
	}
	lines, grams := b.style.RaiseByPH(b.s, b.v, b.second("bicarbonate"))
	b.offer(say.BicarbonateAdded, ferment.DeedAddition, b.weighed("potassium bicarbonate", grams))
	return lines, nil
}

func (b *benched) acidity(to float64, down bool) ([]string, error) {
	if b.s.TA == nil {
		return nil, errNoAcid
	}
	from := b.s.TA.Value
	if to < 1.5 { // nobody aims at so few g/L: it is meant in g/100 mL, as a reading is
		to *= 10
	}
	switch {
	case down && to >= from, !down && to == from:
		return b.style.AcidThere(b.s, from, to), nil
	case to < from:
		r, err := dose.AcidDown(b.v, liquid.GramsPerLitre(from), liquid.GramsPerLitre(to), dose.Tartaric)
		if err != nil {
			return nil, err
		}
		b.offer(say.BicarbonateAdded, ferment.DeedAddition, b.weighed("potassium bicarbonate", r.Grams))
		return b.style.AcidDownDose(b.s, r, from, to, b.second("bicarbonate"), b.spoons(dose.PotassiumBicarbonate, r.Grams)), nil
	}
	r, err := dose.AcidUp(b.v, liquid.GramsPerLitre(from), liquid.GramsPerLitre(to), dose.Tartaric, dose.Tartaric)
	if err != nil {
		return nil, err
	}
	b.offer(say.AcidAdded, ferment.DeedAddition, b.weighed("tartaric acid", r.Grams))
	return b.style.AcidUpDose(b.s, r, from, to, b.second("acid"), b.spoons(dose.TartaricAcid, r.Grams)), nil
}

// nutrient answers the feeding: what is still to come of it, and the portion of now.
// Nitrogen is nowhere in the book; where the question does not tell it, it is assumed.
func (b *benched) nutrient() ([]string, error) {
	if b.s.Has(ferment.TooHot) {
		return b.mayAdd()
	}
	if b.s.OG == 0 {
		return nil, errNoStart
	}
	m := dose.Must{Volume: b.v, OG: b.s.OG, Mead: b.s.Kind == ferment.Mead, Gone: b.s.Gone}
	if n, ok := number(b.in.Args, "nitrogen"); ok {
		m.Nitrogen, m.Measured = liquid.MilligramsPerLitre(n), true
	}
	if b.style.Units == "us" {
		m.Ceiling = dose.CeilingUS
	}
	r, err := dose.Feed(m)
	if err != nil {
		return nil, err
	}
	given := b.soFar(ferment.NutrientClass)
	next, left := r.Next(given)
	due := next.Grams > 0 && b.dueNow(next.At)
	if due {
		b.offer(say.NutrientAdded, ferment.DeedAddition, b.weighed("nutrient", next.Grams))
	}
	return b.style.Feed(b.s, r, next, left, due, b.second("nutrient"), b.spoons(dose.Nutrient, next.Grams)), nil
}

// dueNow reports a feeding whose time has come.
func (b *benched) dueNow(at dose.FeedAt) bool {
	hours := map[dose.FeedAt]float64{dose.After24h: 24, dose.After48h: 48, dose.After72h: 72}
	switch {
	case at == dose.AtLagEnd:
		return true
	case b.s.Pitched.IsZero():
		return false
	case at == dose.AtThird:
		return b.s.Gone >= 1.0/3
	}
	return b.style.Now.Sub(b.s.Pitched).Hours() >= hours[at]
}

var roomCelsius = liquid.Celsius(20) // where the gas is not said to be warmer

// gas answers the carbon dioxide so far, and by the hour where two readings after
// the start allow it.
func (b *benched) gas() ([]string, error) {
	switch {
	case b.s.Pitched.IsZero():
		return b.style.NoGasYet(b.s), nil
	case !b.s.Bottled.IsZero():
		return b.style.GasInBottles(b.s), nil
	case b.v == 0:
		return nil, lacking("volume not known", "volume "+b.style.SomeVolume())
	case !b.s.ABVKnown:
		return nil, errNoStart
	}
	sugar := liquid.GramsPerLitre(float64(b.s.ABV) * liquid.SugarPerPercent)
	r, err := dose.GasInRoom(b.v, sugar, 0, roomCelsius)
	if err != nil {
		return nil, err
	}
	perHour := -1.0
	if p, l := b.s.Prev, b.s.Last; p != nil && l != nil && b.s.Sweetened.IsZero() && b.s.Stop.Shown.IsZero() {
		if h, err := dose.GasPerHour(b.v, b.s.OG, p.SG, l.SG, l.At.Sub(p.At).Hours(), roomCelsius); err == nil {
			perHour = float64(h)
		}
	}
	return b.style.GasNow(b.s, r, perHour), nil
}
