package parse

// onlyIf reports a plan of the cellar's with a condition behind it, in which the words of
// other topics stand: "will rack it saturday if the weather holds".
func (r *reader) onlyIf() bool {
	act := false
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.is(cCond) && act:
			return true
		case it.is(cOther) && !it.cellar():
			return false
		}
		act = act || it.is(cAct) && it.name(cAct) != "read" && it.name(cAct) != "addition"
	}
	return false
}
