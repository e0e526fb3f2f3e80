package parse

// readAndJudged is where the question begins in "pH 3.6 nectar a bit low?": what was read of a
// named batch is told, and what to think of it is asked. 0 where nothing was.
func (r *reader) readAndJudged(from, j, k int) int {
	if j+1 >= k || r.items[j+1].kind != tNum || r.items[from].is(cQ) {
		return 0
	}
	switch r.items[j].name(cLabel) {
	case "ph", "ta", "free_so2":
	default:
		return 0
	}
	if !r.namedIn(from, k) || !r.judgedBehind(j+2, k) {
		return 0
	}
	for j += 2; j < k && (r.items[j].is(cUnit) || r.items[j].batch > 0); j++ {
	}
	return j
}

// namedIn reports a name among the items.
func (r *reader) namedIn(from, to int) bool {
	for ; from < to; from++ {
		if r.items[from].batch > 0 {
			return true
		}
	}
	return false
}

// judgedBehind reports that only the name, the unit and a judgement stand before the mark:
// what was read is told, and what to think of it is asked.
func (r *reader) judgedBehind(j, k int) bool {
	judged := false
	for ; j < k; j++ {
		switch it := &r.items[j]; {
		case it.is(cJudge):
			judged = true
		case it.kind == tNum || it.is(cPlan) || it.is(cCond) || it.is(cAct) || it.name(cJoin) == "or":
			return false
		}
	}
	return judged
}
