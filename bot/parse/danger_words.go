package parse

import (
	"embed"
	"math/bits"
	"slices"
	"strings"
	"sync"
)

// dangerFiles holds the words of danger, one file a language: lines "sense: form; form".
// They are apart from the lexicon because they decide before anything is parsed, and
// because a word that frightens ("burst", "floor") must mean nothing to the grammar.
//
//go:embed danger/*.txt
var dangerFiles embed.FS

// senseSet is a set of the senses that the files name, one bit each.
type senseSet [2]uint64

func (s *senseSet) add(o senseSet)       { s[0], s[1] = s[0]|o[0], s[1]|o[1] }
func (s senseSet) meets(o senseSet) bool { return s[0]&o[0] != 0 || s[1]&o[1] != 0 }
func (s senseSet) empty() bool           { return s[0] == 0 && s[1] == 0 }

// alarmForm is a run of words of one sense.
type alarmForm struct {
	parts []alarmPart
	sense senseSet
}

// alarmPart is one word of a form.
type alarmPart struct {
	word  string
	begin bool     // it begins with word: "burn*"
	any   bool     // one word or none: "_"
	of    senseSet // a word of that sense: "<person>"
}

// alarmNode is what is known of a first word.
type alarmNode struct {
	sense  senseSet     // where the word is a form by itself
	forms  []*alarmForm // the longer forms that it begins
	hushes []*alarmForm // those of them that are everyday sayings
}

// alarmWords finds forms in a text.
type alarmWords struct {
	bits   map[string]int
	words  map[string]*alarmNode // by a whole word
	firsts []string              // its keys, in the order of the files
	begins map[string]*alarmNode // by the beginning of one
	longer map[string]uint16     // by the first letters: a bit for each length that begins has of them
	opened []*alarmForm          // forms that begin with a sense
	opens  senseSet              // those senses
	slips  map[string][]string   // a word with a letter left out → words
	inner  map[string]bool       // the words inside longer forms
	quiet  senseSet
	guard  senseSet
}

// shortest and longest beginnings of a word that are looked up.
const minBegin, maxBegin = 3, 14

// minSlip is the shortest word in which one slip is forgiven: shorter ones are too near
// to other words ("faint", "paint").
const minSlip = 6

var alarms = sync.OnceValue(loadAlarms)

func loadAlarms() *alarmWords {
	a := &alarmWords{bits: map[string]int{}, words: map[string]*alarmNode{}, begins: map[string]*alarmNode{}, longer: map[string]uint16{}, slips: map[string][]string{}, inner: map[string]bool{}}
	a.quiet, a.guard = a.sense("quiet"), a.sense("guard")
	eachLine(dangerFiles, "danger", func(line, _ string) {
		sense, forms, ok := strings.Cut(line, ": ")
		if !ok || line[0] == '#' {
			return
		}
		for form := range strings.SplitSeq(forms, ";") {
			if form = fold(strings.TrimSpace(form)); form == "" {
				continue
			}
			a.file(sense, form)
			if strings.Contains(form, "'") { // "dont" is typed as often as "don't"
				a.file(sense, strings.ReplaceAll(form, "'", ""))
			}
		}
	})
	a.indexSlips()
	return a
}

// sense returns the set of one sense, or of several with "|" between.
func (a *alarmWords) sense(names string) (s senseSet) {
	for name := range strings.SplitSeq(names, "|") {
		bit, ok := a.bits[name]
		if !ok {
			bit = len(a.bits)
			if bit >= 128 {
				panic("danger: too many senses")
			}
			a.bits[name] = bit
		}
		s[bit/64] |= 1 << (bit % 64)
	}
	return s
}

func (a *alarmWords) file(sense, form string) {
	f := &alarmForm{sense: a.sense(sense)}
	for p := range strings.FieldsSeq(form) {
		switch {
		case p == "_":
			f.parts = append(f.parts, alarmPart{any: true})
		case p[0] == '<':
			f.parts = append(f.parts, alarmPart{of: a.sense(strings.Trim(p, "<>"))})
		default:
			words := alarmTokens(strings.TrimSuffix(p, "*"), nil)
			for i, w := range words {
				f.parts = append(f.parts, alarmPart{word: w, begin: i == len(words)-1 && strings.HasSuffix(p, "*")})
			}
		}
	}
	if len(f.parts) == 0 {
		panic("danger: a form without words: " + form)
	}
	for _, p := range f.parts {
		a.inner[p.word] = true
	}
	first := f.parts[0]
	if first.word == "" {
		a.opened = append(a.opened, f)
		a.opens.add(first.of)
		return
	}
	in := a.words
	if first.begin {
		if in = a.begins; len(first.word) < minBegin {
			panic("danger: a beginning too short: " + form)
		}
		first.word = first.word[:min(len(first.word), maxBegin)]
		a.longer[first.word[:minBegin]] |= 1 << len(first.word)
	}
	n := in[first.word]
	if n == nil {
		n = &alarmNode{}
		in[first.word] = n
		if !first.begin {
			a.firsts = append(a.firsts, first.word)
		}
	}
	switch {
	case len(f.parts) == 1:
		n.sense.add(f.sense)
	case f.sense.meets(a.quiet):
		n.hushes = append(n.hushes, f)
	default:
		n.forms = append(n.forms, f)
	}
}

// indexSlips files the words of danger under what is left of them without one letter.
func (a *alarmWords) indexSlips() {
	for _, w := range a.firsts {
		if len(w) < minSlip || a.words[w].sense.meets(a.guard) {
			continue
		}
		a.slips[w] = append(a.slips[w], w)
		for i := 1; i < len(w); i++ {
			k := w[:i] + w[i+1:]
			a.slips[k] = append(a.slips[k], w)
		}
	}
}

// alarmTokens splits a folded text into words: letters and digits in a row. The "s" of
// "dad's" is no word: "in dad's eye" is read as "in dad eye".
func alarmTokens(f string, out []string) []string {
	from := -1
	for i := 0; i <= len(f); i++ {
		inWord := i < len(f) && (letter(f[i]) || f[i] >= '0' && f[i] <= '9')
		if inWord && from < 0 {
			from = i
		}
		if !inWord && from >= 0 {
			if w := f[from:i]; w != "s" || from == 0 || f[from-1] != '\'' {
				out = append(out, w)
			}
			from = -1
		}
	}
	return out
}

// nodes appends what is known of a word, whole and by its beginnings.
func (a *alarmWords) nodes(w string, out []*alarmNode) []*alarmNode {
	if n := a.words[w]; n != nil {
		out = append(out, n)
	}
	if len(w) < minBegin {
		return out
	}
	for m := a.longer[w[:minBegin]]; m != 0; m &= m - 1 {
		if l := bits.TrailingZeros16(m); l <= len(w) {
			if n := a.begins[w[:l]]; n != nil {
				out = append(out, n)
			}
		}
	}
	return out
}

// meant returns the word of danger that w is a slip of, or w: one letter too few, too
// many, wrong, or two changed about, never the first. A word that means something, here
// or in the lexicon, is no slip.
func (a *alarmWords) meant(w string) string {
	if len(w) < minSlip-1 || len(w) > 24 || a.inner[w] || lexicon().byFirst[w] != nil {
		return w
	}
	var buf [24]byte
	for i := range len(w) {
		k := append(buf[:0], w...)
		if i > 0 { // the word itself first: it may lack a letter
			k = append(append(buf[:0], w[:i]...), w[i+1:]...)
		}
		for _, c := range a.slips[string(k)] {
			if c[0] == w[0] && max(len(c), len(w)) > minSlip-1 && oneSlip(c, w) {
				return c
			}
		}
	}
	return w
}

// heardAt is where a sense was heard: the number of a word in the text.
type heardAt struct {
	at    int
	sense senseSet
}

// spot is a word of the text that begins longer forms.
type spot struct {
	at   int
	node *alarmNode
}

// hear returns the senses in a folded text, in the order of the words. Each word is
// looked up once: this runs for every message, and most have none of them. The words of
// names are no slips of words of danger: "aronia" is none of "amonia".
func (a *alarmWords) hear(f string, names [][]string, out []heardAt) []heardAt {
	var tokenBuf [48]string
	tokens := alarmTokens(f, tokenBuf[:0])
	var singleBuf [48]senseSet
	single := singleBuf[:0]
	var spotBuf [16]spot
	spots := spotBuf[:0]
	var nodeBuf [maxBegin]*alarmNode
	var all senseSet
	for i, w := range tokens {
		nodes := a.nodes(w, nodeBuf[:0])
		if len(nodes) == 0 {
			if m := a.meant(w); m != w && !inNames(w, names) {
				tokens[i] = m
				nodes = a.nodes(m, nodes)
			}
		}
		var s senseSet
		for _, n := range nodes {
			s.add(n.sense)
			if len(n.forms)+len(n.hushes) > 0 {
				spots = append(spots, spot{i, n})
			}
		}
		single = append(single, s)
		all.add(s)
	}
	if all.empty() && len(spots) == 0 {
		return out
	}
	a.hush(tokens, single, spots)
	for i, w := range tokens {
		s := single[i]
		for ; len(spots) > 0 && spots[0].at == i; spots = spots[1:] {
			if w == "" {
				continue
			}
			for _, form := range spots[0].node.forms {
				if form.goesOn(tokens[i+1:]) && form.at(tokens[i+1:], single[i+1:], 1) > 0 {
					s.add(form.sense)
				}
			}
		}
		if single[i].meets(a.opens) {
			for _, form := range a.opened {
				if single[i].meets(form.parts[0].of) && form.at(tokens[i+1:], single[i+1:], 1) > 0 {
					s.add(form.sense)
				}
			}
		}
		if !s.empty() {
			out = append(out, heardAt{i, s})
		}
	}
	return out
}

// inNames reports a word of a name.
func inNames(w string, names [][]string) bool {
	for _, ws := range names {
		if slices.Contains(ws, w) {
			return true
		}
	}
	return false
}

// hush takes out the everyday sayings that have a word of danger in them.
func (a *alarmWords) hush(tokens []string, single []senseSet, spots []spot) {
	for i := 0; i < len(tokens); i++ {
		most := 0
		if single[i].meets(a.quiet) {
			most = 1
		}
		for ; len(spots) > 0 && spots[0].at <= i; spots = spots[1:] {
			if spots[0].at < i { // within the last saying
				continue
			}
			for _, form := range spots[0].node.hushes {
				most = max(most, form.at(tokens[i+1:], single[i+1:], 1))
			}
		}
		for j := i; j < i+most; j++ {
			tokens[j], single[j] = "", senseSet{}
		}
		i += max(most-1, 0)
	}
}

// goesOn rules out most of the forms that begin with a common word: their second one is
// not there.
func (f *alarmForm) goesOn(tokens []string) bool {
	second := &f.parts[1]
	return second.word == "" || second.begin || len(tokens) > 0 && tokens[0] == second.word
}

// at returns of how many words the form is, if its parts from p on stand at the
// beginning of tokens; 0 if they do not.
func (f *alarmForm) at(tokens []string, single []senseSet, p int) int {
	if p == len(f.parts) {
		return 1
	}
	part := f.parts[p]
	if part.any {
		if n := f.at(tokens, single, p+1); n > 0 {
			return n
		}
		if len(tokens) == 0 {
			return 0
		}
		return more(f.at(tokens[1:], single[1:], p+1))
	}
	if len(tokens) == 0 || tokens[0] == "" {
		return 0
	}
	w := tokens[0]
	if part.word == "" && !single[0].meets(part.of) || part.word != "" && w != part.word && !(part.begin && strings.HasPrefix(w, part.word)) {
		return 0
	}
	return more(f.at(tokens[1:], single[1:], p+1))
}

// more counts one word more, of a form that is there.
func more(n int) int {
	if n == 0 {
		return 0
	}
	return n + 1
}
