package parse

import "strings"

// standsBy marks, in a group, the words behind a vessel that say where it stands: "in the
// bucket by the door". They are furniture, and nothing else that is told.
func (r *reader) standsBy() {
	for i := range r.items {
		it := &r.items[i]
		if it.used != "" || !it.is(cVessel) && !it.is(cAmbient) && it.fold != "one" && it.fold != "in the jar" {
			continue
		}
		for k := i + 1; ; {
			end := r.standsAt(k)
			if end == 0 {
				break
			}
			if it.fold == "one" {
				it.used = "stands"
			}
			for ; k < end; k++ {
				r.items[k].used = "stands"
			}
		}
	}
}

// standsAt is the end of "by the door" at k; 0 for none.
func (r *reader) standsAt(k int) int {
	if k+1 >= len(r.items) || r.items[k].used != "" || !r.items[k].has(cAside, "by") {
		return 0
	}
	for n := k + 1; n < len(r.items) && n < k+5; n++ {
		it := &r.items[n]
		switch {
		case it.used != "" || it.kind != tWord || it.batch > 0:
			return 0
		case it.has(cAside, "thing"), it.is(cAmbient) && n > k+1:
			return n + 1
		case it.known() && !it.is(cArt) && !it.is(cFill):
			return 0
		}
	}
	return 0
}

// notMeant takes away the name behind "not" where another is told: "the sloe, not the
// quince, 1.016" is of the sloe.
func (r *reader) notMeant() {
	for i := 1; i < len(r.items); i++ {
		if !r.contrasted(i) {
			continue
		}
		for k := range r.items {
			if it := &r.items[k]; it.batch > 0 && it.batch != r.items[i].batch && it.used == "" && !r.contrasted(k) {
				r.items[i].used = "denied"
				break
			}
		}
	}
}

// contrasted reports a name right behind "not" or "instead of".
func (r *reader) contrasted(i int) bool {
	if r.items[i].batch == 0 || r.items[i].used != "" {
		return false
	}
	k := i - 1
	if k > 0 && (r.items[k].fold == "the" || r.items[k].is(cArt)) {
		k--
	}
	return k >= 0 && r.items[k].name(cSay) == "not"
}

// otherTimes drops, in a group, the clock of a sentence that speaks of another topic and
// of nothing in the cellar: in "Elder 1.049. Train gets in 21:50" it is the train's.
func (r *reader) otherTimes() {
	for _, t := range r.times {
		from, to := r.sentenceOf(t.from)
		other := false
		for k := from; k < to; k++ {
			it := &r.items[k]
			if it.batch > 0 || it.is(cDeed) || it.is(cMaterial) || it.kind == tNum && it.used == "" {
				other = false
				break
			}
			other = other || it.is(cOther) && !it.cellar()
		}
		if other && (from > 0 || to < len(r.items)) {
			r.dropTimes(from, to)
			return
		}
	}
}

// namedApart reports a batch in the clause of k where i stands in another one.
func (r *reader) namedApart(k, i int) bool {
	from, to := r.clauseOf(k)
	for j := from; j < to; j++ {
		if r.items[j].batch > 0 {
			return i < from || i >= to
		}
	}
	return false
}

// timetabled drops the clock of "the 18:32": with its article it is a train, not when the
// wine was read.
func (r *reader) timetabled() {
	for _, t := range r.times {
		k := t.from
		if r.items[k].fold == "the" {
			k++
		}
		if k == 0 || k+2 >= len(r.items) || r.items[k-1].fold != "the" || r.items[k].kind != tNum || !r.items[k+1].punct(":") {
			continue
		}
		if t.to < len(r.items) {
			if x := &r.items[t.to]; x.is(cLabel) || x.is(cTType) || x.kind == tNum || x.fold == "one" || x.fold == "reading" || x.fold == "check" || x.is(cDeed) || x.is(cAct) {
				continue
			}
		}
		r.dropTimes(t.from, t.to)
		return
	}
}

// ofGlass reports a vessel or an instrument of glass: "the glass one".
func (r *reader) ofGlass(i int) bool {
	for k := i - 1; k >= 0 && k >= i-3; k-- { // "1.013 says the glass": a hydrometer is meant
		if w := r.items[k].fold; w == "says" || w == "according to" || k > 0 && w == "to" && r.items[k-1].fold == "according" {
			return true
		}
	}
	if i+1 >= len(r.items) {
		return false
	}
	x := &r.items[i+1]
	switch x.fold {
	case "in hand", "in":
		if x.fold == "in" && !(i+2 < len(r.items) && r.items[i+2].fold == "hand") {
			break
		}
		return true
	case "one", "ones", "thing", "thermometer", "stick", "tube", "meter":
		return true
	}
	return x.is(cVessel) || x.is(cInstr) || x.is(cLabel)
}

// inIt reports "in it", "in there" behind a volume: that is how much there is.
func (r *reader) inIt(k int) bool {
	if k+1 < len(r.items) && (r.items[k].fold == "in" || r.items[k].fold == "of") {
		return r.items[k+1].fold == "it" || r.items[k+1].fold == "there"
	}
	return k < len(r.items) && (r.items[k].fold == "in it" || r.items[k].fold == "in there")
}

// sinceThen takes away, behind a denial, the gravity that "since" speaks of: "haven't
// looked since it was 1.048" tells no reading.
func (r *reader) sinceThen() {
	for i := range r.items {
		if r.items[i].fold != "since" || r.items[i].used != "" {
			continue
		}
		from, to := r.clauseOf(i)
		denied := false
		for k := from; k < i; k++ {
			denied = denied || r.items[k].is(cDeny)
		}
		for k := i + 1; denied && k < to; k++ {
			if gravityItem(&r.items[k]) {
				r.items[k].used = "plan"
			}
		}
	}
}

// bracketed reports a comma behind a place in brackets: "(in the shed, 24c)".
func (r *reader) bracketed(k int) bool {
	for p := k - 1; p >= 0 && p >= k-4; p-- {
		if r.items[p].punct("(") {
			return p+1 < k && (r.items[k-1].is(cAmbient) || r.items[k-1].is(cVessel))
		}
	}
	return false
}

// roomOf is the room that the clause of item k names behind "in", "into" or
// "under": where bottles were laid down, or a wine was put into the cold.
func (r *reader) roomOf(k int) string {
	from, to := r.clauseOf(k)
	for j := max(from, 1); j < to; j++ {
		it := &r.items[j]
		if !it.is(cAmbient) || it.used != "" || it.is(cDeed) {
			continue
		}
		if strings.HasPrefix(it.fold, "under") {
			it.used = "place"
			return it.text
		}
		for p := j - 1; p >= from && p >= j-2; p-- {
			switch r.items[p].fold {
			case "in", "into", "under", "to", "in the", "into the":
				it.used = "place"
				return it.text
			}
		}
	}
	return ""
}

// restingPlace reads "on the bottom rack by the wall" behind bottles laid down.
func (r *reader) restingPlace(k int) string {
	_, to := r.clauseOf(k - 1)
	for ; k < to; k++ {
		switch r.items[k].fold {
		case "on", "in", "into", "onto", "under", "at", "by":
			if k+1 < to && r.items[k].used == "" && r.items[k+1].kind == tWord && r.items[k+1].used == "" {
				return r.placeAfter(k)
			}
		}
	}
	return ""
}

// placeAfter reads "to the cellar", "into the garage" behind a move. The
// words up to the next sign or time are the place, as typed.
func (r *reader) placeAfter(k int) string {
	for ; k < len(r.items); k++ {
		switch r.items[k].fold {
		case "it", "to", "into", "in", "the", "them", "out", "down", "up", "on", "onto", "back", "over", "under", "and", "nach", "den", "die":
			continue
		}
		if r.items[k].batch > 0 || r.items[k].used == "time" {
			continue
		}
		break
	}
	from := k
	if k < len(r.items) && r.items[k].fold == "with" { // whoever helped
		return ""
	}
	for k < len(r.items) && r.items[k].kind == tWord && r.items[k].used == "" && r.items[k].batch == 0 && r.items[k].fold != "and" && r.items[k].fold != "but" {
		k++
	}
	if k == from {
		return ""
	}
	for j := from; j < k; j++ {
		r.items[j].used = "place"
	}
	return r.text[r.items[from].start:r.items[k-1].end]
}

// toVessel reports a word that only leads from a gravity with all its digits to the vessel it
// was read in: "1.060 from the big tank".
func (r *reader) toVessel(i int, c *claim) bool {
	if c.v == nil || c.v.n.decimals < 3 || i < c.v.end {
		return false
	}
	if f := r.items[c.v.end].fold; f != "from" && f != "in" && f != "in the" && f != "from the" {
		return false
	}
	for k := c.v.end; k < len(r.items) && k < c.v.end+4; k++ {
		if it := &r.items[k]; it.is(cVessel) {
			return i < k && (k+1 >= len(r.items) || r.items[k+1].kind != tWord)
		} else if it.kind != tWord || it.is(cOther) || it.batch > 0 {
			return false
		}
	}
	return false
}

// offToRoom reads "cyser out to the shed": a name, where to, and nothing else in the clause.
func (r *reader) offToRoom(i int) bool {
	switch r.items[i].fold {
	case "out to", "down to", "up to", "over to", "back to", "through to", "into", "back into", "into the":
	case "out", "down", "up", "over", "back":
		if i+1 >= len(r.items) || r.items[i+1].fold != "to" && r.items[i+1].fold != "to the" && r.items[i+1].fold != "into" && r.items[i+1].fold != "into the" {
			return false
		}
	default:
		return false
	}
	if i == 0 || r.items[i-1].batch == 0 || r.items[i-1].used != "" || !r.headOfClause(i-1) {
		return false
	}
	k := i + 1
	for k < len(r.items) && k < i+4 && !r.items[k].is(cAmbient) {
		if r.items[k].kind != tWord || r.items[k].is(cMaterial) {
			return false
		}
		k++
	}
	return k < len(r.items) && r.items[k].is(cAmbient) && (k+1 == len(r.items) || r.items[k+1].punct(",") || r.items[k+1].punct(".") || r.items[k+1].used == "time")
}
