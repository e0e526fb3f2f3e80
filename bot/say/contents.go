package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

// Alcohol answers "abv?": the figure with its doubt and where it comes from.
func (s Style) Alcohol(b *ferment.State) []string {
	if !b.ABVKnown {
		l := []string{Title(b.Name) + ": alcohol not known", "It needs a gravity before the yeast."}
		if b.Pitched.IsZero() && b.OG > 0 {
			l = []string{Title(b.Name) + ": none yet", fmt.Sprintf("If dry, about %s %% vol", s.ABV(b.Potential))}
		}
		return l
	}
	to := b.Last.SG
	if b.Stop.Shown.IsZero() {
		to = b.Expected // with what went in since it was read
	}
	if nothingGone(b) {
		return []string{Title(b.Name) + ": none yet", fmt.Sprintf("No fall shown since the start, %s", s.SG(b.OG)),
			fmt.Sprintf("If dry, about %s %% vol", s.ABV(b.Potential))}
	}
	head := fmt.Sprintf("%s: %s", Title(b.Name), lowerFirst(s.figureLine(b)))
	if len([]rune(head)) > Width {
		head = strings.Replace(head, " so far", "", 1)
	}
	return []string{head,
		fmt.Sprintf("by balance, %s to %s", s.SG(b.OG), s.SG(to)), fmt.Sprintf("If dry, about %s %% vol", s.ABV(b.Potential))}
}

// Potential answers what the must could make.
func (s Style) Potential(b *ferment.State) []string {
	if b.OG == 0 {
		return []string{Title(b.Name) + ": no start gravity", "Ask like: potential 1.085"}
	}
	return []string{fmt.Sprintf("%s: %s if dry, about %s %% vol", Title(b.Name), s.SG(b.OG), s.ABV(b.Potential))}
}

// Sugar answers what is left by balance; of a must, what is in it.
func (s Style) Sugar(b *ferment.State) []string {
	switch {
	case b.Pitched.IsZero() && b.OG > 0:
		return []string{fmt.Sprintf("%s: about %s, a must", Title(b.Name), s.PerLitre(float64(liquid.Extract(b.OG)))), s.ifDry(b.OG)}
	case !b.SugarKnown && b.Last != nil:
		return []string{Title(b.Name) + ": sugar left not known", "No start gravity. " + s.byStem(b.Last.SG)}
	case !b.SugarKnown:
		return []string{Title(b.Name) + ": sugar left not known", "It needs a gravity before the yeast."}
	}
	gone := fmt.Sprintf("%s of the sugar is gone", s.Share(b.Gone))
	if nothingGone(b) {
		gone = "None of it is gone yet"
	}
	return []string{fmt.Sprintf("%s: about %s sugar (± %s)", Title(b.Name), s.PerLitre(b.SugarLeft), s.Number(b.SugarDoubt, 0)),
		sweetWord(b.SugarLeft), gone}
}

// byStem tells sweetness by the gravity alone, where nothing else is known: 0.998 and
// 1.005 stand in for 8 and 20 g/L (common practice).
func (s Style) byStem(g liquid.Gravity) string {
	switch {
	case g <= 0.998:
		return "At " + s.SG(g) + " dry as a rule"
	case g <= 1.005:
		return "At " + s.SG(g) + " perhaps off-dry"
	}
	return "At " + s.SG(g) + " it is sweet"
}

func sweetWord(left float64) string {
	switch {
	case left <= 8:
		return "Tastes dry"
	case left <= 20:
		return "Off-dry: sugar can still ferment"
	}
	return "Sweet: sugar can still ferment"
}

// VolumeNow answers how much there is.
func (s Style) VolumeNow(b *ferment.State) []string {
	if b.VolumeL == 0 {
		return append([]string{Title(b.Name) + ": volume not known"}, s.typable("Type it like: damson volume 21 l")...)
	}
	l := []string{fmt.Sprintf("%s: %s", Title(b.Name), s.Volume(b.VolumeL))}
	if b.OnPulp {
		l = append(l, fmt.Sprintf("with the pulp; about %s liquid", s.Volume(b.VolumeL*0.75)))
	}
	return l
}

// Bottles answers how many there are, or how many the wine would fill.
func (s Style) Bottles(b *ferment.State) []string {
	if b.BottlesMade > 0 {
		l := []string{fmt.Sprintf("%s: %d left of %d", Title(b.Name), b.BottlesLeft, b.BottlesMade)}
		if who := counters(b); len(who) > 1 && !b.Counted {
			l = append(l, Clip("counted by "+strings.Join(who, ", "), Width))
		}
		return l
	}
	if b.VolumeL == 0 {
		return s.VolumeNow(b)
	}
	n := int((b.VolumeL - 1) / (b.BottleML / 1000))
	return []string{fmt.Sprintf("%s: about %d of %s", Title(b.Name), max(n, 0), s.Volume(b.BottleML/1000)), "1 L allowed for what is lost in filling"}
}

// Contents lists all that went in, by stuff, with its totals.
func (s Style) Contents(b *ferment.State) []string {
	totals := ""
	if b.SO2Added > 0 {
		totals = fmt.Sprintf("SO2 in all about %.0f mg/L", b.SO2Added)
	}
	if b.Sorbate > 0 {
		totals += fmt.Sprintf(", sorbate %.0f", b.Sorbate)
	}
	foot := Wrap("Contains: " + strings.Join(b.Allergens, ", "))
	if totals != "" {
		foot = append([]string{strings.TrimPrefix(totals, ", ")}, foot...)
	}
	if len(b.Additions)+len(b.Came) == 0 {
		return append([]string{Title(b.Name) + ": nothing put in yet"}, foot...)
	}
	room := Depth - len(foot)
	lines := pack(Title(b.Name)+":", s.wentIn(b, true))
	if len(lines) > room {
		lines = pack(Title(b.Name)+":", s.wentIn(b, false))
	}
	if len(lines) > room {
		lines = append(lines[:room-1], "… the rest: history")
	}
	return append(lines, foot...)
}

// wentIn lists what went in, each stuff once: the amount as typed, with its day where there
// is room, of several their sum; then the wines that were blended in.
func (s Style) wentIn(b *ferment.State, days bool) []string {
	var list, order []string
	went := map[string][]ferment.Addition{}
	for _, a := range b.Additions {
		if went[a.Material] == nil {
			order = append(order, a.Material)
		}
		went[a.Material] = append(went[a.Material], a)
	}
	for _, m := range order {
		as := went[m]
		what, sum, about, all := Clip(m, 20), 0.0, "", true
		for _, a := range as {
			sum += a.Grams
			all = all && a.Grams > 0
			if a.Estimate {
				about = "about "
			}
		}
		switch amount := amountOf(as[0].Typed, as[0].Unit, as[0].Amount); {
		case len(as) > 1 && all:
			what += fmt.Sprintf(" %s%s in %d", about, s.Grams(sum), len(as))
		case len(as) > 1:
			what += fmt.Sprintf(" %d times", len(as))
		case amount != "":
			what += " " + amount
		default:
			what += " some"
		}
		if days && len(as) == 1 {
			what += " " + s.Day(as[0].At)
		}
		list = append(list, what)
	}
	for _, c := range b.Came {
		list = append(list, strings.TrimSpace(s.litres(c.Litres)+" "+Clip(c.Name, NameWidth)))
	}
	return list
}

// pack puts items into as few lines as hold them unbroken, the first behind a head.
func pack(head string, items []string) []string {
	lines := []string{head}
	for i, it := range items {
		n := len(lines) - 1
		if i == 0 && len([]rune(head+" "+it)) <= Width {
			lines[n] += " " + it
		} else if i > 0 && len([]rune(lines[n]+"; "+it)) <= Width {
			lines[n] += "; " + it
		} else {
			lines = append(lines, Wrap(it)...)
		}
	}
	return lines
}

// TempNow answers how warm a batch was last, and what is warm or cold for it.
func (s Style) TempNow(b *ferment.State) []string {
	t := newestTemp(b)
	if t == nil {
		return append([]string{Title(b.Name) + ": no temperature yet"}, s.TypeThis("temperature")...)
	}
	from := " (" + t.From + ")"
	if t.From == "unlabelled" { // of what was not said
		from = ""
	}
	l := []string{fmt.Sprintf("%s: %s%s, %s", Title(b.Name), s.Temp(t.C), from, s.Moment(t.At))}
	switch {
	case b.Has(ferment.TooHot):
		l = append(l, "Too hot: cool it slowly, no nutrient")
	case b.Has(ferment.TooCold):
		l = append(l, "Cold for it: warm it to "+s.Between(18, 21)+" slowly")
	case b.Stage == ferment.Lag || b.Stage == ferment.Primary || b.Stage == ferment.Secondary:
		l = append(l, "Too hot from "+s.Temp(b.HotAt())+", too cold below "+s.Temp(ferment.ColdBelow))
	}
	return l
}
