package parse

import "slices"

// clause is a run of items between signs.
type clause struct{ from, to int }

// clauseOf returns the clause around position k. "and" ends a clause too.
// The clauses are found once; positions behind the end count as the last
// item.
func (r *reader) clauseOf(k int) (from, to int) {
	if len(r.clauses) != len(r.items) {
		r.markClauses()
	}
	c := r.clauses[min(k, len(r.items)-1)]
	return c.from, c.to
}

// markClauses finds the clause of every item once: a text of any length is
// walked a fixed number of times. It runs again when times have claimed
// the points of their dates.
func (r *reader) markClauses() {
	r.clauses = make([]clause, len(r.items))
	r.remark = make([]bool, len(r.items))
	for from := 0; from < len(r.items); {
		to, remark := from, false
		for to < len(r.items) && !r.endsClause(to) {
			remark = remark || r.items[to].is(cFault) || r.items[to].name(cDeed) == "tasted"
			to++
		}
		for k := from; k < to; k++ {
			r.clauses[k], r.remark[k] = clause{from, to}, remark
		}
		if to < len(r.items) { // the sign itself belongs to nothing
			r.clauses[to] = clause{to + 1, to}
		}
		from = to + 1
	}
}

// endsClause reports a sign that no date has claimed, or "and".
func (r *reader) endsClause(k int) bool {
	if r.items[k].punct("/") && k > 0 && k+1 < len(r.items) && r.items[k-1].kind == tNum && r.items[k+1].kind == tNum { // "1.031/19"
		return false
	}
	if r.bracketsName(k) { // "1.050 (blackcurrant)"
		return false
	}
	if it := &r.items[k]; it.kind == tPunct && (it.text == "(" || it.text == ")" || dash(it.text) && !it.glued && k+1 < len(r.items) && !r.items[k+1].glued) {
		return it.used == ""
	}
	return r.items[k].breaks() && r.items[k].used == "" || r.conjoins(k)
}

// bracketsName reports a bracket around nothing but a name, at its beginning or end.
func (r *reader) bracketsName(k int) bool {
	switch {
	case r.items[k].punct("("):
		return k > 0 && k+2 < len(r.items) && r.items[k+1].batch > 0 && r.items[k+2].punct(")")
	case r.items[k].punct(")"):
		return k > 2 && r.items[k-1].batch > 0 && r.items[k-2].punct("(")
	}
	return false
}

// conjoins reports a word that begins another clause.
func (r *reader) conjoins(k int) bool {
	switch r.items[k].fold {
	case "and", "but", "while", "whilst", "because", "cos", "though", "although":
		return r.items[k].batch == 0
	}
	return false
}

// dash reports a sign that parts two thoughts when blanks stand around it.
func dash(s string) bool { return s == "-" || s == "–" || s == "—" }

// mark is a place in the text that names a batch or a time.
type mark struct{ at, id int }

// pick chooses the mark that governs position k: the only one of its
// clause, else the one before it (or after it where names follow their
// readings), else the nearest before, else the first after. Nothing is
// guessed from word order alone: a mark in the same clause beats any
// other.
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
	joint   [][]int
	rows    int // so many of joint are rows of names: "apple and grape"

	bothAt, bothID int // the number that "both" behind it gives to several batches
}

// jointID and up name several batches at once; unknownID a name that is
// not open.
const (
	jointID   = 1000
	unknownID = -2
)

// newScopes collects the names and times of the text. first is the item of
// the first value or deed: names before it lead, names behind it follow.
func (r *reader) newScopes(first int) *scopes {
	s := &scopes{r: r, first: first}
	row := r.deedsOnly()
	for i := 0; i < len(r.items); i++ {
		if r.unknownBefore(i) {
			s.batches = append(s.batches, mark{i, unknownID})
		}
		if r.items[i].batch == 0 || r.items[i].used != "" {
			continue
		}
		set, end := []int{r.items[i].batch}, i
		if row {
			for _, j := range r.rowFrom(i) {
				set, end = append(set, r.items[j].batch), j
			}
		}
		for j := r.joinedName(end); j > 0; j = r.joinedName(end) {
			set, end = append(set, r.items[j].batch), j
		}
		id := set[0]
		if len(set) > 1 {
			id = jointID + len(s.joint)
			s.joint = append(s.joint, set)
		}
		s.batches = append(s.batches, mark{i, id})
		i = end
	}
	s.rows = len(s.joint)
	s.wholeSets()
	said := false
	for i, t := range r.times {
		said = said || !t.when.Now() || t.today || t.dated
		if !t.when.Now() || t.today || t.dated || t.now {
			s.times = append(s.times, mark{t.from, i})
		}
	}
	if !said { // "now" alone is no other time than none
		s.times = nil
	}
	return s
}

// longestRow bounds a row of names, so that a text of nothing else is not walked again and
// again (no source).
const longestRow = 12

// rowFrom are the items of the names that go on with the one at k in "strained sloe plum
// damson" and "racked sloe, plum, and haw". What was done to one was done to all of them;
// where the clause goes on it may tell of the last name alone.
func (r *reader) rowFrom(k int) (row []int) {
	end := k
	for len(row) < longestRow {
		j := end + 1
		for n := 0; n < 2 && j < len(r.items) && r.items[j].used == "" && (r.items[j].punct(",") || r.items[j].punct("/") || r.items[j].name(cJoin) == "and"); n++ {
			j++
		}
		if j >= len(r.items) || r.items[j].batch == 0 || r.items[j].used != "" || r.items[j].batch == r.items[end].batch || r.items[end].nearName && r.items[j].nearName {
			break
		}
		row, end = append(row, j), j
	}
	if len(row) == 0 || end+1 >= len(r.items) {
		return row
	}
	next := &r.items[end+1]
	if next.is(cSet) && end+2 < len(r.items) { // "sloe, plum all stirred"
		next = &r.items[end+2]
	}
	if next.breaks() || next.kind == tPunct || next.used == "time" || next.is(cNow) || next.is(cThanks) || next.is(cManner) || next.is(cDeed) && !r.numberAfterName(end) {
		return row
	}
	return nil
}

// deedsOnly reports a message of deeds without a figure, where names may stand in a row.
func (r *reader) deedsOnly() bool {
	deed := false
	for i := range r.items {
		if r.items[i].kind == tNum && r.items[i].used != "time" {
			return false
		}
		deed = deed || r.items[i].used == "deed"
	}
	return deed
}

// joinedName returns the item of the name that "and" joins to the one at
// k, 0 for none. The words for "and" of the other languages join as well.
func (r *reader) joinedName(k int) int {
	j := k + 1
	if j < len(r.items) && r.items[j].fold == "with" && r.blends() {
		j++
	} else if r.slashed(j) {
		return j + 1
	} else if j >= len(r.items) || r.items[j].name(cJoin) != "and" {
		return 0
	}
	for n := 0; j < len(r.items) && (r.items[j].fold == "the" || j == k+1 || n < 2 && r.items[j].batch == 0 && len(r.items[j].fold) <= 4 && (r.items[j].is(cFill) || r.items[j].is(cArt))); n++ {
		j++
	}
	if j < len(r.items) && r.items[j].batch > 0 && r.items[j].used == "" && r.items[j].batch != r.items[k].batch && !r.numberAfterName(j) {
		return j
	}
	return 0
}

// slashed reports the stroke of "gorse/plum 1.043/1.008": as many gravities as names.
func (r *reader) slashed(j int) bool {
	return j > 0 && j+4 < len(r.items) && r.items[j].punct("/") && r.items[j+1].batch > 0 && r.items[j+1].used == "" && r.items[j+1].batch != r.items[j-1].batch &&
		gravityItem(&r.items[j+2]) && r.items[j+3].punct("/") && gravityItem(&r.items[j+4])
}

// blends reports a blend: both wines of "the medlar with the quince" are meant.
func (r *reader) blends() bool {
	for i := range r.items {
		if r.items[i].name(cDeed) == "blended" {
			return true
		}
	}
	return false
}

// numberAfterName: "racked gorse and damson 1.010" gives the number to
// damson alone. A value or a deed of its own parts it from the name before,
// but "gorse and damson racked" is said of both.
func (r *reader) numberAfterName(j int) bool {
	if j+1 >= len(r.items) {
		return false
	}
	next := &r.items[j+1]
	if next.is(cDeed) {
		for k := range j {
			if r.items[k].is(cDeed) || r.items[k].kind == tNum {
				return true
			}
		}
		return false
	}
	if next.punct(":") || next.punct("=") { // "#13 and #14: 0.995" gives it to both
		for k := range j {
			if r.items[k].is(cDeed) || r.items[k].kind == tNum {
				return true
			}
		}
		return false
	}
	if gravityItem(next) && j+3 < len(r.items) && gravityItem(&r.items[j+3]) { // "apple & grape 1.027 & 1.050"
		if sep := &r.items[j+2]; sep.fold == "and" || sep.punct("&") || sep.punct("+") || sep.punct("/") || sep.punct(",") {
			return false
		}
	}
	return next.kind == tNum
}

// unknownBefore reports a fruit that names no open batch just before a
// number. It claims the number behind it, so that the number does not go
// to the batch named before.
func (r *reader) unknownBefore(i int) bool {
	it := &r.items[i]
	if it.unknownNo && it.used == "" {
		return true
	}
	if !it.is(cFruit) || it.batch > 0 || it.used != "" || it.is(cMaterial) {
		return false
	}
	if i > 0 && r.items[i-1].batch > 0 && it.name(cKind) != "" { // "ginger mead 1.054": what the ginger is
		return false
	}
	for k := i + 1; k < len(r.items) && k < i+4; k++ {
		if r.items[k].kind == tNum {
			return gravityShaped(r.items[k].num)
		}
		if !r.items[k].punct(":") && !r.items[k].punct("=") && !r.items[k].punct("-") && !r.items[k].is(cFill) && r.items[k].name(cLabel) == "" {
			return false
		}
	}
	return false
}

// batch is the batch (index+1) that governs item k: 0 where none is named,
// unknownID where an unknown one is, jointID and up where several are. One
// name holds for the whole text, wherever it stands.
func (s *scopes) batch(k int) int {
	if s.bothID > 0 && k == s.bothAt {
		return s.bothID
	}
	if id := s.r.pick(s.batches, k, s.first); id > 0 || id == unknownID {
		return id
	}
	return 0
}

// split gives a claim that several batches share to each of them. Each
// gets its own entry, as if it had been said twice.
func (d *draft) split() {
	if !slices.ContainsFunc(d.claims, func(c claim) bool { return c.batch >= jointID }) {
		return
	}
	var out []claim
	d.torn = d.twiceJoint()
	for i, c := range d.claims {
		if c.batch < jointID {
			out = append(out, c)
			continue
		}
		if n, ok := d.inOrder(i); ok { // "apple and grape: 1.027 and 1.050"
			c.batch = d.scopes.joint[c.batch-jointID][n]
			out = append(out, c)
			continue
		}
		for _, b := range d.scopes.joint[c.batch-jointID] {
			x := c
			x.batch = b
			out = append(out, x)
		}
	}
	d.claims = out
}

// twiceJoint reports two gravities of one time that are said of the same several batches:
// "both jars: 0.998 and 0.999" does not tell which is which.
func (d *draft) twiceJoint() bool {
	for i := range d.claims {
		c := &d.claims[i]
		if _, ok := d.inOrder(i); ok {
			continue
		}
		for j := i + 1; j < len(d.claims) && c.batch >= jointID && c.e.Quantity == "sg"; j++ {
			if x := &d.claims[j]; x.e.Quantity == "sg" && x.batch == c.batch && x.e.When == c.e.When && x.e.Value != nil && c.e.Value != nil && *x.e.Value != *c.e.Value {
				return true
			}
		}
	}
	return false
}

// inOrder is the place of the gravity of claim i among those told of the same row of names;
// as many as names belong to them in their order. "both" has no order.
func (d *draft) inOrder(i int) (n int, ok bool) {
	set := d.claims[i].batch - jointID
	if set < 0 || set >= d.scopes.rows {
		return 0, false
	}
	q := d.claims[i].e.Quantity
	switch q {
	case "sg", "ph", "ta", "free_so2", "total_so2", "brix", "oechsle", "baume", "abv":
	default:
		return 0, false
	}
	of := 0
	for k := range d.claims {
		c := &d.claims[k]
		if c.e.Quantity != q || c.batch != d.claims[i].batch {
			continue
		}
		if k < i {
			n++
		}
		of++
	}
	return n, of == len(d.scopes.joint[set])
}

// when is the time that governs item k; the message's own where none is
// said.
func (s *scopes) when(k int) When {
	if len(s.times) == 1 && len(s.batches) > 1 {
		// One time among several batches: for all if it stands first or last, else for its own clause.
		t := s.times[0]
		from, to := s.r.clauseOf(k)
		if t.at > s.first && !(t.at >= from && t.at < to) && s.batches[len(s.batches)-1].at > t.at {
			return When{}
		}
	}
	if len(s.times) == 1 && s.times[0].at > s.first && s.r.ownGravity(k, s.times[0].at) {
		return When{}
	}
	if id := s.r.pick(s.times, k, s.first); id >= 0 {
		return s.r.times[id].when
	}
	return When{}
}

// ownGravity reports that item k and the time at t stand in different clauses
// with a gravity each: in "1.031 (1.041 on sunday)" only the second is Sunday's.
func (r *reader) ownGravity(k, t int) bool {
	kf, kt := r.clauseOf(k)
	tf, tt := r.clauseOf(t)
	if kf == tf {
		return false
	}
	has := func(from, to int) bool {
		for i := from; i < to; i++ {
			if gravityItem(&r.items[i]) {
				return true
			}
		}
		return false
	}
	return has(kf, kt) && has(tf, tt)
}
