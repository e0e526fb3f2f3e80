package parse

// wholeSets lets "both", "all three" and "the other one" stand for batches: "both" for
// the two named so far or the two open ones, "all" for all that are open, "the other"
// for the one of two that was not spoken of last. Of three nobody can tell which two
// are meant.
func (s *scopes) wholeSets() {
	r := s.r
	for i := range r.items {
		it := &r.items[i]
		set := it.name(cSet)
		if set == "" || it.batch > 0 || it.used != "" {
			continue
		}
		if set == "each" && (i == 0 || !r.items[i-1].is(cVerb) && r.items[i-1].fold != "to" && r.items[i-1].fold != "for") {
			continue
		}
		from, to := r.clauseOf(i)
		if s.namedIn(from, to) && !(set == "both" && s.namedApart(i)) {
			return
		}
		switch set {
		case "other":
			s.addOther(i, from)
		default:
			s.addSet(i, set)
		}
		return
	}
}

// namedIn reports a name between two items.
func (s *scopes) namedIn(from, to int) bool {
	for _, m := range s.batches {
		if m.at >= from && m.at < to {
			return true
		}
	}
	return false
}

// namedApart reports that what stands before "both" has been given to two names already,
// each with a number of its own: "cran 1.050 orange 1.026 68 both".
func (s *scopes) namedApart(i int) bool {
	n, r := 0, s.r
	for _, m := range s.batches {
		if m.at < i && m.at+1 < len(r.items) && r.items[m.at+1].kind == tNum {
			n++
		}
	}
	return n == 2
}

// addSet makes one joint batch of those that "both", "each" or "all" at item i mean.
func (s *scopes) addSet(i int, set string) {
	r := s.r
	var bs []int
	for _, m := range s.batches {
		if m.at < i && m.id > 0 && m.id < jointID {
			bs = append(bs, m.id)
		}
	}
	if len(s.batches) == 0 {
		for b := range r.ctx.Batches {
			if !r.ctx.Batches[b].bottled() {
				bs = append(bs, b+1)
			}
		}
	}
	if set == "both" && len(s.batches) == 0 {
		if like := r.likeNamed(i); len(like) == 2 {
			bs = like
		}
	}
	want := 2
	switch set {
	case "all":
		want = len(bs)
	case "three":
		want = 3
	case "four":
		want = 4
	}
	if len(bs) < 2 || len(bs) != want || bs[0] == bs[1] {
		return
	}
	s.joint = append(s.joint, bs)
	s.batches = append(s.batches, mark{i, jointID + len(s.joint) - 1})
	if k := i + 1; k < len(r.items) && r.items[k].kind == tNum && !gravityItem(&r.items[k]) && s.namedApart(i) { // "... both 17c"
		s.bothAt, s.bothID = k, jointID+len(s.joint)-1
		s.batches = s.batches[:len(s.batches)-1]
	} else if k := i - 1; k > 0 && s.namedApart(i) { // "... 68 both": the number just before it
		for k > 0 && r.items[k].is(cUnit) {
			k--
		}
		if r.items[k].kind == tNum {
			s.bothAt, s.bothID = k, jointID+len(s.joint)-1
			s.batches = s.batches[:len(s.batches)-1]
		}
	}
}

// addOther names the other of two batches at item i; what was read before its clause,
// with no name, is of the first: "1.036 here, the other one 1.010".
func (s *scopes) addOther(i, from int) {
	r := s.r
	b := r.otherOpen()
	if b == 0 {
		return
	}
	for k := 0; k < from && len(s.batches) == 0; k++ {
		if gravityItem(&r.items[k]) {
			if first := r.lastSpokenOf(); first > 0 {
				s.batches = append(s.batches, mark{k, first})
			}
		}
	}
	s.batches = append(s.batches, mark{i, b})
}

// lastSpokenOf is the sender's current batch, or that of the newest entry (index+1).
func (r *reader) lastSpokenOf() int {
	if b := r.index(r.ctx.Active); b > 0 {
		return b
	}
	return r.lastIndex()
}

// otherOpen is of two open batches the one that was not spoken of last (index+1): not
// the sender's current one, or where there is none, not that of the newest entry.
func (r *reader) otherOpen() int {
	last, found := r.lastSpokenOf(), 0
	for i := range r.ctx.Batches {
		if i+1 == last || r.ctx.Batches[i].bottled() {
			continue
		}
		if found > 0 || last == 0 {
			return 0
		}
		found = i + 1
	}
	return found
}

// otherOfMany reports "the other one" where more than two batches are open, and one of them
// was spoken of last: that one is not meant.
func (r *reader) otherOfMany() bool {
	if !r.addressed() || r.lastSpokenOf() == 0 {
		return false
	}
	for i := range r.items {
		if it := &r.items[i]; it.name(cSet) == "other" && it.batch == 0 && it.used == "" {
			return true
		}
	}
	return false
}

// onlyOne is the one open batch that suits (index+1); 0 where none or more do.
func (r *reader) onlyOne(ok suits) int {
	found := 0
	for i := range r.ctx.Batches {
		if b := &r.ctx.Batches[i]; ok(b) {
			if found > 0 {
				return 0
			}
			found = i + 1
		}
	}
	return found
}

// meansSeveral reports a word that means more than one batch.
func (r *reader) meansSeveral() bool {
	for i := range r.items {
		switch r.items[i].name(cSet) {
		case "both", "all", "three", "four":
			return r.items[i].batch == 0
		}
	}
	return false
}
