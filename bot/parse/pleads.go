package parse

import "strings"

// frenchPresent reports "on presse nonno dimanche": without its mark the participle is the
// present behind a bare pronoun ("on a pressé" has its auxiliary), and beside a day, or
// asked of the others, the present is a plan.
func (r *reader) frenchPresent(k, to int) bool {
	it := &r.items[k]
	if k == 0 || !strings.HasSuffix(it.text, "e") {
		return false
	}
	switch r.items[k-1].fold {
	case "on", "je", "il", "elle":
	default:
		return false
	}
	for j := k + 1; j < len(r.items); j++ {
		if x := &r.items[j]; j < to && x.is(cWeekday) || x.punct("?") {
			return true
		}
	}
	return false
}

// pleads reports what a group asks of somebody: in a clause with "please" a verb of doing and
// neither a deed done nor a gravity. "put 3 g of nutrient in the plum please" is not done yet.
func (r *reader) pleads(from, to int) bool {
	if !r.saidInGroup() {
		return false
	}
	please, verb := false, false
	for k := from; k < to; k++ {
		it := &r.items[k]
		switch it.fold {
		case "please", "pls", "plz", "bitte", "alsjeblieft", "prosze", "prosim", "snalla":
			please = true
		}
		if it.batch > 0 || it.used != "" {
			continue
		}
		if it.is(cDeed) || gravityItem(it) && it.num.decimals == 3 {
			return false
		}
		verb = verb || it.is(cVerb) || it.is(cAct)
	}
	return please && verb
}
