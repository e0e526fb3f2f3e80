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

// maxSpoken is how many words on each side tell the language of one between them.
const maxSpoken = 12

// spoken counts the words around item k that a language has and English has not.
func (r *reader) spoken(lang string, k int) int {
	n := 0
	for i := max(0, k-maxSpoken); i < len(r.items) && i < k+maxSpoken; i++ {
		has := false
		for _, s := range r.items[i].senses {
			if s.lang == "en" {
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
