package parse

import "strings"

// fetched marks what a clause tells of having been bought, picked or sold: it went into
// no wine. "Bought 2 kg sugar, added 500 g" puts in what the second clause says.
func (r *reader) fetched() bool {
	found := false
	for from := 0; from < len(r.items); {
		_, to := r.clauseOf(from)
		if to <= from {
			from++
			continue
		}
		if r.onlyFetched(from, to) {
			found = true
			for k := from; k < to; k++ {
				if it := &r.items[k]; it.used == "" && it.batch == 0 && (it.kind == tNum || it.is(cMaterial) || it.is(cUnit) || it.is(cNoun)) {
					it.used = "fetched"
				}
			}
		}
		from = to + 1
	}
	return found
}

// onlyFetched reports a clause with such a verb and none of putting in, and no deed: of
// bottles sold the count is the book's.
func (r *reader) onlyFetched(from, to int) bool {
	got := false
	for k := from; k < to; k++ {
		it := &r.items[k]
		switch {
		case it.batch > 0 && r.ctx.Batches[it.batch-1].bottled():
			return false
		case it.used != "" || it.batch > 0:
		case it.is(cLabel) && k+1 < to && r.items[k+1].kind == tNum: // "brix 9.5 on the thing kath bought"
			return false
		case it.is(cDeed), it.name(cUnit) == "bottle", it.is(cVerb) && it.fold != "in" && it.fold != "into" && it.fold != "more":
			return false
		case it.is(cGot):
			got = true
		}
	}
	return got
}

// ofOther reports "5 l of bleach": the volume of a thing that is no wine.
func (r *reader) ofOther(k int) bool {
	if k+1 >= len(r.items) || r.items[k].fold != "of" {
		return false
	}
	for k++; k < len(r.items) && (r.items[k].is(cFill) || r.items[k].is(cTaste) || r.items[k].is(cPron) || r.items[k].is(cArt)) && r.items[k].kind == tWord; k++ {
	}
	if k >= len(r.items) {
		return false
	}
	x := &r.items[k]
	return x.kind == tWord && x.batch == 0 && x.used == "" && !x.is(cMaterial) && !x.is(cTType) && !x.is(cFruit) && (!x.known() && !r.begins || x.is(cOther) && !x.cellar() || x.fold == "gas")
}

// takenOff reports "off the skins", "off its pulp": what the wine was parted from went into
// nothing.
func (r *reader) takenOff(k int) bool {
	for j := k - 1; j >= 0 && j >= k-3; j-- {
		switch it := &r.items[j]; {
		case it.fold == "off" || it.fold == "off of" || strings.HasSuffix(it.fold, " off") && it.is(cDeed):
			return true
		case !it.is(cFill) && !it.is(cPron) && !it.is(cArt):
			return false
		}
	}
	return false
}

// onSomebody reports "honey in my hair", "sugar all over his shoes": somebody's own thing
// that has no meaning here is no wine.
func (r *reader) onSomebody(k int) bool {
	on := false
	for k++; k+1 < len(r.items) && !r.items[k].breaks(); k++ {
		switch r.items[k].fold {
		case "in", "on", "all over", "over", "up", "all":
			on = true
			continue
		case "my", "his", "her", "your", "our", "their":
			x := &r.items[k+1]
			return on && x.kind == tWord && x.batch == 0 && (!x.known() || x.is(cOther) && !x.cellar()) && !x.is(cOthers)
		}
		return false
	}
	return false
}
