package parse

import "strings"

// solvent reports what something was dissolved in or made into: "in hot water", "in 104F
// water", "as a syrup". The heat told of it is not the must's.
func (r *reader) solvent(k int) bool {
	for p := k - 1; p >= 0 && p >= k-5; p-- {
		switch it := &r.items[p]; {
		case it.fold == "in" || it.fold == "as" || strings.HasSuffix(it.fold, " in"):
			return p > 0
		case it.kind == tNum || it.is(cUnit) || it.is(cArt) || it.fold == "hot" || it.fold == "°" || skipToMaterial(it):
		default:
			return false
		}
	}
	return false
}

// wineItself: "racked 9 l of wine", "strained 8 l of juice" tell how much there
// is, not what was put in.
func (r *reader) wineItself(it *item) bool {
	if m := it.name(cMaterial); m != "wine" && m != "juice" && m != "fruit" {
		return false
	}
	for i := range r.items {
		switch r.items[i].name(cDeed) {
		case "racked", "strained", "pressed", "bottled":
			return !r.hasRealVerb()
		}
	}
	return false
}

// hasRealVerb reports a verb of adding that is more than "in" or "into".
func (r *reader) hasRealVerb() bool {
	for i := range r.items {
		if it := &r.items[i]; it.is(cVerb) && it.fold != "in" && it.fold != "into" && it.fold != "more" && it.fold != "in there" && it.fold != "is in" && it.fold != "are in" && it.fold != "in it" {
			return true
		}
	}
	return false
}

// ofVessels reports that what follows is a vessel or a tool: "sulphited two demijohns" is
// cleaning.
func (r *reader) ofVessels(k int) bool {
	for n := 0; k < len(r.items) && n < 4; k, n = k+1, n+1 {
		it := &r.items[k]
		switch {
		case it.is(cVessel) || it.name(cUnit) == "bottle" || it.is(cInstr) || it.fold == "corks" || it.fold == "siphon" || it.fold == "equipment" || it.fold == "airlocks" || it.fold == "gear":
			return true
		case it.batch > 0 || it.breaks() || it.is(cDeed) || it.is(cMaterial) || it.fold == "in" || it.fold == "into":
			return false
		}
	}
	return false
}

// fullOf reports vessels that are counted full of something put in: "4 jars of honey".
func (r *reader) fullOf(n float64, k int) bool {
	if n != float64(int(n)) || n > 50 || k+2 >= len(r.items) || r.items[k].name(cVessel) == "" || r.items[k+1].fold != "of" {
		return false
	}
	switch r.items[k+2].name(cMaterial) {
	case "sugar", "honey", "sugar syrup", "juice concentrate", "raisins":
		return true
	}
	return false
}

// dissolvedBehind reports what an amount was stirred into first: "20 g in 200 ml hot water",
// "3 g in a cup of must".
func (r *reader) dissolvedBehind(k int) bool {
	if f := r.items[k].fold; f != "in" && f != "dissolved in" && f != "in a" {
		return false
	}
	for n := 0; n < 6 && k+1 < len(r.items) && !r.items[k+1].breaks() && r.items[k+1].batch == 0; n++ {
		k++
		if it := &r.items[k]; it.is(cMaterial) || isVolumeUnit(it.name(cUnit)) || it.is(cNoun) {
			return true
		}
	}
	return false
}
