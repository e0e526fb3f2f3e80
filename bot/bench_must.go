package bot

import (
	"errors"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

var (
	errNoAcid   = errors.New("acidity not known. Type: ta 5.5")
	errNoStart  = errors.New("start gravity not known. Type: og 1.085")
	errToAcid   = errors.New("to what? like: acid to 6.5")
	errUpNot    = errors.New("it is there or above already")
	errDownNot  = errors.New("it is there or below already")
	roomCelsius = liquid.Celsius(20) // where the gas is not said to be warmer
)

// acid answers acid up and down. An acidity is reckoned, a pH only estimated.
func (b *benched) acid() ([]string, error) {
	down := b.in.Topic == parse.TopicAcidDown
	if to, ok := number(b.in.Args, "ta"); ok {
		return b.acidity(to, down)
	}
	to, ok := number(b.in.Args, "ph")
	switch {
	case !ok:
		return nil, errToAcid
	case b.s.PH == nil:
		return nil, errNoPH
	case to < b.s.PH.Value:
		return b.style.AcidByPH(b.s, b.v, b.s.PH.Value, to), nil
	}
	return b.style.RaiseByPH(b.s, b.v), nil
}

func (b *benched) acidity(to float64, down bool) ([]string, error) {
	if b.s.TA == nil {
		return nil, errNoAcid
	}
	from := b.s.TA.Value
	switch {
	case down && to >= from:
		return nil, errDownNot
	case down:
		r, err := dose.AcidDown(b.v, liquid.GramsPerLitre(from), liquid.GramsPerLitre(to), dose.Tartaric)
		return b.style.AcidDownDose(b.s, r, from, to), err
	case to <= from:
		return nil, errUpNot
	}
	r, err := dose.AcidUp(b.v, liquid.GramsPerLitre(from), liquid.GramsPerLitre(to), dose.Tartaric, dose.Tartaric)
	return b.style.AcidUpDose(b.s, r, from, to), err
}

// nutrient answers the feeding; nitrogen is nowhere in the book, so it is assumed.
func (b *benched) nutrient() ([]string, error) {
	if b.s.OG == 0 {
		return nil, errNoStart
	}
	r, err := dose.Feed(dose.Must{Volume: b.v, OG: b.s.OG, Mead: b.s.Kind == ferment.Mead, Gone: b.s.Gone})
	if err != nil {
		return nil, err
	}
	return b.style.Feed(b.s, r), nil
}

// gas answers the carbon dioxide so far, and by the hour where two readings after
// the start allow it.
func (b *benched) gas() ([]string, error) {
	if !b.s.ABVKnown {
		return nil, errNoStart
	}
	sugar := liquid.GramsPerLitre(float64(b.s.ABV) * liquid.SugarPerPercent)
	r, err := dose.GasInRoom(b.v, sugar, 0, roomCelsius)
	if err != nil {
		return nil, err
	}
	perHour := -1.0
	if p, l := b.s.Prev, b.s.Last; p != nil && l != nil && b.s.Sweetened.IsZero() {
		if h, err := dose.GasPerHour(b.v, b.s.OG, p.SG, l.SG, l.At.Sub(p.At).Hours(), roomCelsius); err == nil {
			perHour = float64(h)
		}
	}
	return b.style.GasNow(b.s, r, perHour), nil
}

// mayAdd answers whether a material may go in at this stage.
func (b *benched) mayAdd() ([]string, error) {
	m, s := text(b.in.Args, "material"), b.s
	if b.in.Topic == parse.TopicSulphite {
		m = "sulphite"
	}
	working := !s.Pitched.IsZero() && !s.Stop.Proven()
	switch c := ferment.ClassOf(m); {
	case m == "":
		return nil, errors.New("add what? like: can I add sugar?")
	case c == ferment.SulphiteClass && s.MLFOpen():
		return b.style.NoSulphite(s), nil
	case c == ferment.SorbateClass && b.malolactic():
		return b.style.NoSorbate(s), nil
	case (c == ferment.SulphiteClass || c == ferment.SorbateClass) && s.MLFUnknown() && !working:
		return b.style.MayAdd(s, m, "not yet", "Malolactic is likely and not settled:", "test first, or say: no malolactic"), nil
	case c == ferment.SulphiteClass && working:
		return b.style.MayAdd(s, m, "not now", "It is working: sulphite hurts the yeast", "and does not stop it for sure"), nil
	case c == ferment.SorbateClass && !s.Stop.Proven():
		return b.style.MayAdd(s, m, "not yet", "Not proven stopped: sorbate", "stops no working wine"), nil
	case c == ferment.NutrientClass && s.Gone > 2.0/3:
		return b.style.MayAdd(s, m, "too late", "Two thirds of the sugar is gone"), nil
	case c.Raises() && s.Stop.Proven():
		return b.style.MayAdd(s, m, "with care", "Stabilise first, then wait 7–14 days", "under the airlock and read again"), nil
	case !s.Bottled.IsZero():
		return b.style.MayAdd(s, m, "no", "It is bottled"), nil
	}
	return b.style.MayAdd(s, m, "nothing against", "Log it with its amount when it is in"), nil
}

// malolactic reports bacteria that live in it, lived in it, or are wanted.
func (b *benched) malolactic() bool {
	return !b.s.MLFStarted.IsZero() || !b.s.MLFDone.IsZero() || b.s.MLFOpen()
}

// told is what an answer says where a figure is missing.
func told(s *ferment.State, err error) []string {
	return say.Fit([]string{say.Title(s.Name) + ": " + err.Error()})
}
