package parse

// saidWrong reports that a word of repair alone stands between two deeds: of "strained, I
// mean racked it" the second one was done.
func (r *reader) saidWrong(x, y *deed) bool {
	said := false
	for k := x.end; k < y.at; k++ {
		it := &r.items[k]
		switch {
		case it.kind == tPunct && !it.punct("?") || it.batch > 0 && k == x.end:
		case it.is(cSay) && it.name(cSay) != "not" || it.fold == "er" || it.fold == "no":
			said = true
		default:
			return false
		}
	}
	return said
}

// airlockBefore reports the airlock in the sentence of item k or in the one before, and
// behind k no amount of what the wine itself could have been topped up with: "the airlock
// was dry, refilled it".
func (r *reader) airlockBefore(k int) bool {
	for j := k + 1; j < len(r.items); j++ {
		if r.items[j].kind == tNum || r.items[j].batch > 0 { // "airlock is bubbling, topped up the gooseberry"
			return false
		}
	}
	for j, stops := k-1, 0; j >= 0 && stops < 2; j-- {
		it := &r.items[j]
		if it.name(cAirlock) == "it" {
			return true
		}
		if it.punct(".") || it.kind == tLine {
			stops++
		}
	}
	return false
}

// portion reports that the deed at k was done to a glass of the wine, and not to the batch:
// "sweetened a glass of it to 1.010".
func (r *reader) portion(k int) bool {
	put := false
	switch r.items[k].name(cDeed) {
	case "sweetened", "stirred", "fined", "blended", "stabilised", "degassed", "strained":
	default:
		if put = r.items[k].is(cVerb); !put { // "put honey into a cup of it", but not "added a cup of it"
			return false
		}
	}
	_, to := r.clauseOf(k)
	for j := k + 1; j+1 < to; j++ {
		if p := &r.items[j]; p.name(cStarter) != "portion" && p.name(cTType) != "sample" {
			continue
		}
		if h := r.items[j-1].fold; put && h != "into" && !(r.items[j-1].is(cArt) && r.items[j-2].fold == "into") {
			continue
		}
		n := j + 1
		if f := r.items[n].fold; f != "of" && f != "von" && f != "de" && f != "di" && f != "van" && f != "av" && f != "af" {
			continue
		}
		for n < to && (r.items[n].is(cFill) && r.items[n].batch == 0 || r.items[n].is(cArt)) {
			n++
		}
		if n < to && (r.items[n].batch > 0 || r.items[n].is(cPron)) {
			return true
		}
	}
	return false
}

// afterScratch is the place of the gravity in "scratch that, 1.031", which stands for the
// sender's own newest one; 0 where there is none, or where it is that very one.
func (r *reader) afterScratch() int {
	l := r.ctx.LastEntry
	if !r.items[0].is(cUndo) || len(r.items) != 3 || r.items[1].kind != tPunct && r.items[1].kind != tLine || !gravityItem(&r.items[2]) || r.items[2].num.decimals != 3 {
		return 0
	}
	if !r.ownLast() || l.Value == nil || l.Quantity != "sg" || gravityValue(r.items[2].num) == *l.Value {
		return 0
	}
	return 2
}
