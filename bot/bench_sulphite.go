package bot

import (
	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// phDoubt is how far a home meter may be off (common practice).
const phDoubt = 0.1

// wantedSO2 is the free SO2 asked for, and by which molecular target and pH it was
// found; a pH in the question goes before the one in the book.
func (b *benched) wantedSO2() (say.WantedSO2, error) {
	if ppm, ok := number(b.in.Args, "ppm"); ok {
		return say.WantedSO2{Free: liquid.MilligramsPerLitre(ppm)}, nil
	}
	w := say.WantedSO2{Molecular: float64(dose.MolecularTarget)}
	if m, ok := number(b.in.Args, "molecular"); ok {
		w.Molecular = m
	}
	ph, ok := number(b.in.Args, "ph")
	switch {
	case ok:
		w.PH = ph
	case b.s.PH != nil:
		w.PH = b.s.PH.Value
	default:
		return w, errNoPH
	}
	f, err := dose.FreeForMolecular(liquid.MilligramsPerLitre(w.Molecular), w.PH, phDoubt)
	w.Free, w.Low, w.High = f.Free, f.Low, f.High
	return w, err
}

func (b *benched) sulphite() ([]string, error) {
	switch {
	case b.s.MLFOpen() && !b.s.Pitched.IsZero():
		return b.style.NoSulphite(b.s), nil
	case b.s.MLFUnknown() && b.s.Stop.Proven(), b.working():
		return b.mayAdd()
	}
	want, err := b.wantedSO2()
	if err != nil {
		return nil, err
	}
	want.Adds = want.Free
	if b.s.FreeSO2 != nil {
		want.Has = liquid.MilligramsPerLitre(b.s.FreeSO2.Value + b.addedSince(b.s.FreeSO2))
		want.Adds = max(0, want.Free-want.Has)
		if want.Adds == 0 {
			return b.style.SulphiteEnough(b.s, want), nil
		}
	}
	salt, material := dose.PotassiumSalt, "sulphite"
	if text(b.in.Args, "salt") == "sodium" {
		salt, material = dose.SodiumSalt, "sodium metabisulphite"
	}
	r, err := dose.SulphiteFor(b.v, want.Adds, b.totalSO2(), salt)
	if err != nil {
		return nil, err
	}
	b.offer(say.SulphiteAdded, ferment.DeedAddition, b.weighed(material, r.Grams))
	d := say.SulphiteAnswer{WantedSO2: want, Dose: r, Salt: salt, Second: b.second("sulphite"), Spoons: b.spoons(dose.PotassiumMetabisulphite, r.Grams)}
	if b.in.Args["tablets"] == true {
		if d.Tablets, err = dose.TabletsFor(b.v, want.Adds); err != nil {
			return nil, err
		}
	}
	return b.style.SulphiteDose(b.s, d), nil
}

// addedSince is the SO2 that went in after a test, all of it counted.
func (b *benched) addedSince(m *ferment.Measure) (mg float64) {
	for _, a := range b.s.Additions {
		if a.At.After(m.At) {
			mg += a.SO2
		}
	}
	return mg
}

// totalSO2 is the running total: the newest test of it and what went in since, else all
// that the book holds.
func (b *benched) totalSO2() liquid.MilligramsPerLitre {
	if b.s.TotalSO2 != nil {
		return liquid.MilligramsPerLitre(b.s.TotalSO2.Value + b.addedSince(b.s.TotalSO2))
	}
	return liquid.MilligramsPerLitre(b.s.SO2Added)
}

func (b *benched) sorbate() ([]string, error) {
	switch {
	case b.malolactic():
		return b.style.NoSorbate(b.s), nil
	case b.s.Pitched.IsZero(), b.s.MLFUnknown() && b.s.Stop.Proven():
		return b.mayAdd()
	}
	r, err := dose.SorbateFor(b.v, dose.SorbateUsual, liquid.MilligramsPerLitre(b.s.Sorbate), false)
	if err != nil {
		return nil, err
	}
	if b.s.Sorbate > 0 && r.Salt < 0.1*dose.SorbateUsual { // what is left under the cap does nothing
		r.Grams = 0
	}
	if b.s.Stop.Proven() && r.Grams > 0 {
		b.offer(say.SorbateAdded, ferment.DeedAddition, b.weighed("sorbate", r.Grams))
	}
	return b.style.SorbateDose(b.s, r, b.second("sorbate"), b.spoons(dose.PotassiumSorbate, r.Grams)), nil
}

// mayAdd answers whether a material may go in at this stage.
func (b *benched) mayAdd() ([]string, error) {
	m, s := text(b.in.Args, "material"), b.s
	switch b.in.Topic {
	case parse.TopicSulphite:
		m = "sulphite"
	case parse.TopicSorbate:
		m = "sorbate"
	case parse.TopicNutrient:
		m = "nutrient"
	}
	c := ferment.ClassOf(m)
	guard := c == ferment.SulphiteClass || c == ferment.SorbateClass
	switch {
	case m == "":
		return nil, lack{what: "add what?", example: "can I add sugar?"}
	case !s.Bottled.IsZero(), s.Stage == ferment.Empty:
		return say.NothingIn(s), nil
	case c == ferment.SulphiteClass && s.MLFOpen():
		return b.style.NoSulphite(s), nil
	case c == ferment.SorbateClass && b.malolactic():
		return b.style.NoSorbate(s), nil
	case guard && s.MLFUnknown() && !b.working() && !s.Pitched.IsZero():
		return b.style.MayAdd(s, m, "not yet", "Malolactic is likely and not settled:", "test first, or say: no malolactic"), nil
	case c == ferment.SulphiteClass && b.working():
		return b.style.MayAdd(s, m, "not now", "It works: sulphite hurts the yeast and", "does not stop it. After it has stopped"), nil
	case c == ferment.SorbateClass && s.Pitched.IsZero():
		return b.style.MayAdd(s, m, "no", "With it a must never ferments"), nil
	case c == ferment.SorbateClass && !s.Stop.Proven():
		return b.style.MayAdd(s, m, "not yet", "Not proven stopped: sorbate", "stops no working wine"), nil
	case c == ferment.NutrientClass && s.Gone > 2.0/3:
		return b.style.MayAdd(s, m, "too late", "Two thirds of the sugar is gone"), nil
	case c == ferment.NutrientClass && s.Has(ferment.TooHot):
		return b.style.MayAdd(s, m, "not now", "It is too hot: cool it slowly first"), nil
	case c.Raises() && s.Has(ferment.Stuck):
		return b.style.MayAdd(s, m, "no", "It is stuck on the sugar it has"), nil
	case c.Raises() && !s.Stop.Shown.IsZero():
		return b.style.MayAdd(s, m, "with care", "Stabilise first, then wait 7–14 days", "under the airlock and read again"), nil
	}
	return b.style.MayAdd(s, m, "nothing against", "Log it with its amount when it is in"), nil
}
