package parse

// behindStrength is the place behind "a 10 %" at item k, or k: the strength of a solution
// stands between how much of it and what it is of.
func (r *reader) behindStrength(k int) int {
	n := k
	if r.items[n].is(cArt) && r.items[n].kind == tWord {
		n++
	}
	if n+2 < len(r.items) && r.items[n].kind == tNum && r.items[n+1].name(cUnit) == "%" {
		return n + 2
	}
	return k
}

// pitchedAfter reports that the yeast went in behind the material at k, in a clause of its
// own: "1.2 kg sugar, yeast in" are two deeds.
func (r *reader) pitchedAfter(x *deed, k int) bool {
	_, to := r.clauseOf(k)
	return x.name == "pitched" && x.at >= to && r.items[k].name(cMaterial) != "yeast"
}
