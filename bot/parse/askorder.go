package parse

// isWhat reports "1.030 is how much sugar": the number is what is asked about.
func (r *reader) isWhat(j, k int) bool {
	switch r.items[j].fold {
	case "is", "means", "equals", "makes", "gives", "=":
		return j+1 < k && r.items[j+1].strongWord()
	}
	return false
}

// invertedBehind reports a verb of asking and its subject behind the word at k: "how strong
// is it", "when can we".
func (r *reader) invertedBehind(k int) bool {
	for j := k + 1; j+1 < len(r.items) && j < k+4; j++ {
		if x := &r.items[j+1]; r.items[j].is(cQ) && (x.is(cPron) || x.batch > 0 || x.fold == "the") {
			return true
		}
	}
	return false
}

// askedAhead reports a question of what is to be done, and with whom: "who's bottling the
// plum with me", "morgen de kweepeer bottelen?".
func (r *reader) askedAhead(from, end int) bool {
	for i := range r.times {
		if t := &r.times[i]; t.future && t.from >= from && t.to <= end {
			return true
		}
	}
	for k := from; k+1 < end; k++ {
		if r.items[k].fold == "with" && (r.items[k+1].fold == "me" || r.items[k+1].fold == "us") {
			return true
		}
	}
	return false
}
