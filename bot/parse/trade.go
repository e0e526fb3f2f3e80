package parse

// tradeWords reports a question that is plainly about the cellar: it has a word that
// everyday talk does not use, and asks nobody of the group in person. What a group is
// answered may be a little more than what is stored of it: an answer too many does
// the book no harm.
func (r *reader) tradeWords(from, end int) bool {
	trade := false
	for k := from; k < end; k++ {
		it := &r.items[k]
		switch it.fold {
		case "you", "u", "your", "yours", "ya", "he", "she", "they":
			return false
		}
		if r.strangeThing(k, end) {
			return false
		}
		if it.kind == tWord && it.batch == 0 && (it.is(cPerson) || r.isMember(it.fold)) {
			return false
		}
		trade = trade || it.is(cTrade) || it.name(cAct) == "racked" && r.rackIt(k, end)
	}
	return trade
}

// rackIt tells the verb from the rack in the kitchen: "rack it", "can we rack".
func (r *reader) rackIt(k, end int) bool {
	if r.items[k].fold == "racking" || k+1 < end && (r.items[k+1].fold == "it" || r.items[k+1].fold == "them") {
		return true
	}
	if k == 0 {
		return false
	}
	switch r.items[k-1].fold {
	case "i", "we", "to":
		return true
	}
	return false
}

// strangeThing reports an article or "my" before a thing that no cellar has: "who
// fermented the cabbage".
func (r *reader) strangeThing(k, end int) bool {
	it := &r.items[k]
	if k+1 >= end || !it.is(cArt) && it.fold != "the" && it.fold != "my" && it.fold != "our" {
		return false
	}
	x := &r.items[k+1]
	if x.kind != tWord || x.batch > 0 || x.is(cAct) || x.is(cTrade) || x.is(cFruit) || x.is(cKind) || x.is(cTType) || x.is(cNoun) {
		return false
	}
	return !x.cellar() || x.is(cFault) && !x.is(cObs)
}
