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

// stirsIn reports "stirred 5 g of nutrient into the plum": stirring is how it was put in.
func (r *reader) stirsIn(i int) bool {
	if i+1 >= len(r.items) || r.items[i].fold != "stirred" || r.items[i+1].kind != tNum && !r.items[i+1].is(cMaterial) && r.items[i+1].name(cNumber) == "" && !r.items[i+1].is(cArt) {
		return false
	}
	_, to := r.clauseOf(i)
	material := false
	for k := i + 1; k < to; k++ {
		it := &r.items[k]
		if material && (it.fold == "in" || it.fold == "into") {
			return true
		}
		material = material || it.is(cMaterial) && it.batch == 0
	}
	return false
}

// wentIn reports a verb of adding before the amount at k, or behind it with what it is of
// between: "3 g of some new powder in the plum".
func (r *reader) wentIn(k int) bool {
	from, to := r.clauseOf(k)
	for j := max(from, k-4); j < k; j++ { // "the plum got 5 g of …", "gave the plum 5 g"
		switch r.items[j].fold {
		case "got", "gave", "given", "gets":
			if j+1 < k && r.items[j+1].batch > 0 || j > 0 && r.items[j-1].batch > 0 || j+2 < k && r.items[j+2].batch > 0 {
				return true
			}
		}
	}
	for j := max(from, k-4); j < min(to, k+8); j++ {
		if j != k && r.items[j].used == "" && (r.items[j].is(cVerb) || j > k+3 && (r.items[j].fold == "in the" || r.items[j].fold == "into the")) {
			return true
		}
	}
	return false
}

// amountGiven reports a wine at work right behind "gave" at i, and a weight of something: the
// wine is what it was given to.
func (r *reader) amountGiven(i, to int) bool {
	k := i + 1
	for k < to && r.determined(k) {
		k++
	}
	if k >= to || r.items[k].batch == 0 || r.ctx.Batches[r.items[k].batch-1].bottled() {
		return false
	}
	for k++; k+1 < to; k++ {
		if u := r.items[k+1].name(cUnit); r.items[k].kind == tNum && massOrCount(u) && !isVolumeUnit(u) {
			return true
		}
	}
	return false
}
