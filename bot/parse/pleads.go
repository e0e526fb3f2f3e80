package parse

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
