package parse

// onlyPeople reports that a text which names an open batch is of no other topic than people:
// whoever presses it, the plan is the household's.
func (r *reader) onlyPeople() bool {
	named := false
	for i := range r.items {
		it := &r.items[i]
		named = named || it.batch > 0
		if it.is(cOther) && !it.cellar() && it.batch == 0 && !it.is(cOthers) && !it.is(cPerson) || it.used == "price" || it.used == "thing" {
			return false
		}
	}
	return named
}

// asksAnyone reports "anyone got a spare carboy", "can someone lend me" at item k.
func (r *reader) asksAnyone(k int) bool {
	for n := k; n < k+3 && n < len(r.items); n++ {
		if r.items[n].name(cPron) == "anyone" {
			return true
		}
		if !r.items[n].is(cQ) && !r.items[n].is(cThanks) && r.items[n].kind != tPunct {
			return false
		}
	}
	return false
}

// withMe is the place behind "Roy and I" at the head of a text; 0 where it does not begin so.
func (r *reader) withMe() int {
	if len(r.items) < 4 || r.items[1].name(cJoin) != "and" || r.items[2].fold != "i" && r.items[2].fold != "me" {
		return 0
	}
	it := &r.items[0]
	if it.kind != tWord || it.batch > 0 || !it.is(cPerson) && !r.isMember(it.fold) && len(it.senses) > 0 {
		return 0
	}
	return 3
}

// askedFor reports a verb that asks for it before a count: "take 2 parsnip to Anna" is not done.
func (r *reader) askedFor(from, to int) bool {
	for ; from < to; from++ {
		switch r.items[from].fold {
		case "take", "bring", "send", "give", "drop", "carry", "get", "keep", "save", "deliver", "leave", "post":
			return r.items[from].batch == 0
		}
	}
	return false
}
