package parse

// anotherTongue reports a word of time that is a small word in another language, which
// more of the other words speak: "hier" is here among German words, yesterday among
// French ones.
func (r *reader) anotherTongue(k int) bool {
	day, small := "", ""
	for _, s := range r.items[k].senses {
		switch s.class {
		case cDay:
			day = s.lang
		case cFill, cPlain:
			small = s.lang
		}
	}
	if small == "" || day == "en" || small == day {
		return false
	}
	return r.spoken(small, k) > r.spoken(day, k)
}

// smallInAnother reports a word for somebody else that is a small word in another
// language, which more of the other words speak: "su" is his among Spanish words, up
// among Italian ones. Where none speaks for either, a private chat is about one's own:
// "ich" is I there, and not theirs.
func (r *reader) smallInAnother(k int) bool {
	theirs, small := "", ""
	for _, s := range r.items[k].senses {
		switch s.class {
		case cOthers:
			theirs = s.lang
		case cFill, cPlain:
			small = s.lang
		}
	}
	if small == "" || theirs == "en" || small == theirs {
		return false
	}
	n, other := r.spoken(small, k), r.spoken(theirs, k)
	return n > other || n == other && r.addressed()
}

// asksInAnother reports a word for a note that opens a question in another language, of
// which another word is, too: "comment va le merlot". A colon makes it a note.
func (r *reader) asksInAnother(k int) bool {
	for _, s := range r.items[k].senses {
		if s.class == cQ && s.lang != "en" {
			return !r.items[k+1].punct(":") && r.spoken(s.lang, k) > 0
		}
	}
	return false
}

// of reports a word of that language.
func (it *item) of(lang string) bool {
	for i := range it.senses {
		if it.senses[i].lang == lang {
			return true
		}
	}
	return false
}

// maxSpoken is how many words on each side tell the language of one between them.
const maxSpoken = 12

// spoken counts the words around item k that a language has and English has not.
func (r *reader) spoken(lang string, k int) int {
	n := 0
	for i := max(0, k-maxSpoken); i < len(r.items) && i < k+maxSpoken; i++ {
		has := false
		for _, s := range r.items[i].senses {
			if s.lang == "en" && s.class != cPrefix { // "le" begins names, and is no English word
				has = false
				break
			}
			has = has || s.lang == lang
		}
		if has && i != k {
			n++
		}
	}
	return n
}
