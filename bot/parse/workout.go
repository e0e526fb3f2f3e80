package parse

import "strings"

// workWords begin a sum that is asked for without a question. They never tell of
// what was done: "sulphite to 0.8" is a dose wanted, "sulphite 2 g" one given.
var workWords = anyOf("sugar to|sugar for|honey to|honey for|water to|water down to|sulphite to|sulfite to|sulphite for|sulfite for|so2 to|campden to|campden for|metabisulphite to|metabisulphite for|" +
	"acid to|acid up to|raise acid to|acid down to|take acid down to|take acid up to|lower acid to|acidity to|ta to|ph to|lower ph to|raise ph to|sweeten to|sorbate for|nutrient for|nutrients for")

// worksOut reports a dose asked for without a question: "water down to 1.080",
// "elder: sulphite to 0.8 molecular". A batch named before it is the one meant, and
// the numbers behind it are wanted, not measured.
func (r *reader) worksOut() bool {
	i := r.behindName()
	if i < 0 {
		return false
	}
	f := strings.TrimSpace(fold(r.text[r.items[i].start:]))
	for _, p := range []string{"please ", "bring ", "get "} {
		f = strings.TrimPrefix(f, p)
	}
	f = strings.TrimPrefix(strings.ReplaceAll(f, "the acid", "acid"), "the ")
	f = strings.ReplaceAll(f, "the ph", "ph")
	switch strings.TrimRight(f, " .!") {
	case "sweeten", "acid down", "take acid down", "lower acid", "raise acid", "acid up":
		return true // to what is asked back
	}
	return sugarEach(f) || numberBehind(f, workWords.begin(f))
}

var sugarNamed = anyOf("sugar|dextrose|glucose")

// numberBehind reports a figure right behind the first n words: it is what the sum is
// to reach. "Sulphite to the must" tells where it went.
func numberBehind(f string, n int) bool {
	if n == 0 {
		return false
	}
	w := strings.Fields(f)
	return n < len(w) && (isDigit(w[n][0]) || w[n][0] == '.' || w[n] == "ph" || w[n] == "reach")
}

// behindName is the first item behind the name of a batch that opens the text; 0
// where none opens it, -1 where nothing stands behind it.
func (r *reader) behindName() int {
	i := 0
	for i < len(r.items) && (r.items[i].batch > 0 || r.items[i].punct("#") || r.items[i].punct(":") || r.items[i].punct(",") || r.items[i].fold == "the") {
		i++
	}
	if i >= len(r.items) {
		return -1
	}
	return i
}

// sugarEach reports sugar by the bottle that nobody says was put in: "5 g sugar in
// each of 38 bottles". Whether it may go in is the question behind it.
func sugarEach(f string) bool {
	if !sugarNamed.in(f, wordStarts(f)) || !hasAny(f, "each|per bottle|a bottle|every bottle") || !hasAny(f, "bottle|bottles|each") {
		return false
	}
	return !hasAny(f, "added|bottled|primed|put|gave|filled|went|yesterday|done")
}

// sulphiteArgument files a number of a sulphite question: the pH behind its label, the
// free SO2 by its unit or its size, else the molecular target, which is at most 2 mg/L.
func (r *reader) sulphiteArgument(q *question, k int, unit string) {
	v := r.items[k].num.val
	switch {
	case r.behindLabel(k, "ph"):
		q.args["ph"] = v
	case unit == "mg/L", unit == "" && v >= 10 && v <= 350:
		q.args["ppm"] = v
	case unit == "" && v > 0 && v <= 2:
		q.args["molecular"] = v
	case unit != "":
		q.args["value"], q.args["unit"] = v, unit
	}
}

// behindLabel reports that label before item k, a sign or a small word between them.
func (r *reader) behindLabel(k int, label string) bool {
	for j := k - 1; j >= 0 && j >= k-3; j-- {
		switch it := &r.items[j]; {
		case it.name(cLabel) == label:
			return true
		case it.kind == tNum:
			return false
		}
	}
	return false
}

// wouldMake reports a question of what is to be made at all: "shall we make parsnip again",
// "should we do elderflower next year". The people of the house decide that.
func (r *reader) wouldMake(from, end int) bool {
	for k := from; k+2 < end; k++ {
		if f := r.items[k].fold; f != "we" && f != "you" && f != "i" {
			continue
		}
		x := &r.items[k+2]
		switch r.items[k+1].fold {
		case "make", "brew":
			return x.kind != tNum && !x.is(cQ)
		case "do", "try":
			return x.batch > 0 || x.is(cFruit) || x.fold == "more" || x.fold == "another" || x.fold == "some"
		}
	}
	return false
}

// otherScale reports "18 kmw how many brix": the number that opens the text is to be told
// on the scale behind the word at k that asks, and is no reading.
func (r *reader) otherScale(k int) bool {
	if k > 2 || r.items[0].kind != tNum {
		return false
	}
	for j := k + 1; j < len(r.items) && j < k+3; j++ {
		if u := r.items[j].name(cUnit); u != "" {
			return unitQuantity[u] != "" && u != "deg" && (k == 1 || u != r.items[1].name(cUnit))
		}
	}
	return false
}
