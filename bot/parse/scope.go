package parse

// clauseOf returns the items between the signs around position k. "and" ends a
// clause too where a name or a time follows.
func (r *reader) clauseOf(k int) (from, to int) {
	from, to = 0, len(r.items)
	for j := k; j >= 0; j-- {
		if r.items[j].breaks() && r.items[j].used == "" || r.items[j].fold == "and" {
			from = j + 1
			break
		}
	}
	for j := k; j < len(r.items); j++ {
		if r.items[j].breaks() && r.items[j].used == "" || r.items[j].fold == "and" {
			to = j
			break
		}
	}
	return from, to
}

// mark is a place in the text that names a batch or a time.
type mark struct{ at, id int }

// pick chooses the mark that governs position k: the only one of its clause, else
// the one before it (or after it where names follow their readings), else the
// nearest before, else the first after.
func (r *reader) pick(marks []mark, k, firstValue int) int {
	if len(marks) == 0 {
		return -1
	}
	same := true
	for _, m := range marks {
		same = same && m.id == marks[0].id
	}
	if same {
		return marks[0].id
	}
	from, to := r.clauseOf(k)
	var in []mark
	for _, m := range marks {
		if m.at >= from && m.at < to {
			in = append(in, m)
		}
	}
	if len(in) == 1 {
		return in[0].id
	}
	set := in
	leading := marks[0].at < firstValue
	if len(in) == 0 {
		set = marks
	}
	if leading || len(in) == 0 {
		id := set[0].id
		for _, m := range set {
			if m.at < k {
				id = m.id
			}
		}
		return id
	}
	for _, m := range set {
		if m.at > k {
			return m.id
		}
	}
	return set[len(set)-1].id
}

// scopes answers which batch and time govern a place of the text.
type scopes struct {
	r       *reader
	batches []mark
	times   []mark
	first   int // first value or deed
}

func (r *reader) newScopes(first int) *scopes {
	s := &scopes{r: r, first: first}
	for i := range r.items {
		if r.items[i].batch > 0 && r.items[i].used == "" {
			s.batches = append(s.batches, mark{i, r.items[i].batch})
		}
	}
	for i, t := range r.times {
		if !t.when.Now() || t.today || t.dated {
			s.times = append(s.times, mark{t.from, i})
		}
	}
	return s
}

func (s *scopes) batch(k int) int {
	if id := s.r.pick(s.batches, k, s.first); id > 0 {
		return id
	}
	return 0
}

func (s *scopes) when(k int) When {
	if len(s.times) == 1 && len(s.batches) > 1 {
		// One time among several batches: for all if it stands first or last, else for its own clause.
		t := s.times[0]
		from, to := s.r.clauseOf(k)
		if t.at > s.first && !(t.at >= from && t.at < to) && s.batches[len(s.batches)-1].at > t.at {
			return When{}
		}
	}
	if id := s.r.pick(s.times, k, s.first); id >= 0 {
		return s.r.times[id].when
	}
	return When{}
}
