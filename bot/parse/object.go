package parse

import "strings"

// doneToThing reports, in a group, an article and a noun where the object of the deed at i
// stands and that is nothing a wine is made of or kept in: "pressed the label on the jar",
// "die Farbe umgerührt", and a deed that a thing did to itself. What is told there is not the
// cellar's, and the noun is marked, so that its clause counts for nothing else.
func (r *reader) doneToThing(i int, name string) bool {
	if !r.saidInGroup() || !takesObject(name) {
		return false
	}
	if name == "given away" {
		return r.fedTo(i)
	}
	if i+1 < len(r.items) && r.items[i+1].has(cAside, "self") { // "gooseberry stirred itself"
		return true
	}
	at, of := 0, &r.items[i]
	for s := range of.senses {
		lang := of.senses[s].lang
		switch {
		case of.senses[s].class != cDeed || at > 0:
		case lang == "de" || lang == "nl":
			at = r.objectBefore(i, lang, name)
		default:
			at = r.objectBehind(i, lang, name)
		}
	}
	if at == 0 {
		return false
	}
	r.items[at].used = "thing"
	return true
}

// takesObject reports a deed that is done to a wine, and whose words are said of other things.
func takesObject(deed string) bool {
	switch deed {
	case "racked", "pitched", "stirred", "punched down", "strained", "pressed", "topped up", "degassed", "fined", "stabilised", "sweetened", "blended", "bottled", "moved",
		"labelled", "laid down", "opened", "given away", "poured away", "split", "emptied":
		return true
	}
	return false
}

// objectBehind is the noun at the end of the article and the few words behind the verb at i,
// where it is a thing; 0 where there is no article or where they speak of a wine. What the wine
// is taken off is no object.
func (r *reader) objectBehind(i int, lang, deed string) int {
	k := i + 1
	for n := 0; n < 2 && k < len(r.items) && r.smallBeside(k); n++ {
		k++
	}
	if k >= len(r.items) || deed == "racked" && strings.HasSuffix(r.items[i].fold, " off") || r.items[k].used != "" || !r.items[k].has(cAside, lang) {
		return 0
	}
	from, wine, last := k, 0, 0
words:
	for k++; k < len(r.items) && k < from+mostOfObject; k++ {
		it := &r.items[k]
		if it.kind == tNum || it.kind == tCode {
			return 0
		}
		if it.kind != tWord || it.used != "" || it.is(cDeed) || it.has(cAside, "away") {
			break words
		}
		of, article := it.has(cAside, "gen") || it.has(cAside, "of"), it.has(cAside, lang)
		switch {
		case it.batch == 0 && (article || of):
			if of {
				if last > 0 && wine == 0 && r.items[last].is(cOther) && !r.items[last].cellar() { // "les photos du syrah"
					return last
				}
				last = 0
			}
			continue
		case it.ofWine() || r.bagOf(k, deed) || isVolumeUnit(it.name(cUnit)):
			wine, last = k, k
			continue
		case wine > 0 && last == 0 && it.name(cOther) == "thing" && !it.cellar(): // "the plum jars of jam"
			return k
		case it.is(cToward) || it.is(cJoin) || it.is(cVerb):
			break words
		}
		last = k
	}
	if r.items[from].is(cArt) && last > 0 && (r.items[last].is(cFill) || r.items[last].is(cManner)) { // "stirred a bit", "a second time"
		return 0
	}
	at := r.thingAt(wine, last)
	if at == 0 && wine > 0 {
		r.markParts(from, k)
	}
	return at
}

// mostOfObject is the most words that an object is said in: "the last of the old plum wine".
const mostOfObject = 8

// smallBeside reports the rest of a verb, "up", "out", or a word of how a deed is done.
func (r *reader) smallBeside(k int) bool {
	it := &r.items[k]
	return it.used == "" && it.batch == 0 && (it.has(cAside, "away") || it.is(cManner))
}

// thingAt is the last word of an object where that is a thing: none of its words is of a wine,
// or a strange noun stands right behind the wine's name, "the plum stain". With a capital it is
// whoever is spoken to.
func (r *reader) thingAt(wine, last int) int {
	if last == 0 {
		return 0
	}
	it := &r.items[last]
	if wine == 0 {
		if it.has(cAside, "size") || it.is(cPerson) || r.isMember(it.fold) {
			return 0
		}
		return last
	}
	if last != wine+1 || r.items[wine].batch == 0 && !r.items[wine].is(cNewword) || it.known() || it.is(cManner) || it.is(cPlain) || it.is(cBye) || r.isMember(it.fold) || it.fold == r.sender || it.text[0] < 'a' || strings.HasSuffix(it.fold, "ly") {
		return 0
	}
	return last
}

// objectBefore is the noun right before a participle of German or Dutch, where an article stands
// before it and it is a thing; else 0.
func (r *reader) objectBefore(i int, lang, deed string) int {
	last, wine := 0, false
	for k := i - 1; k >= 0 && k >= i-4; k-- {
		it := &r.items[k]
		switch {
		case it.used == "time":
			continue
		case it.kind != tWord || it.used != "":
			return 0
		case it.has(cAside, lang) && wine:
			r.markParts(k+1, i)
			return 0
		case it.has(cAside, lang) && k > 0 && (r.items[k-1].is(cToward) || r.items[k-1].is(cVerb) || r.items[k-1].has(cAside, "by") || r.items[k-1].has(cAside, "of")): // "in den Keller"
			return 0
		case it.has(cAside, lang):
			return last
		case it.ofWine() || r.bagOf(k, deed):
			wine = true
		case it.is(cFill) || it.is(cToward) || it.is(cPerson) || it.is(cVerb) || it.is(cQ) || r.isMember(it.fold):
			return 0
		}
		if last == 0 {
			last = k
		}
	}
	return 0
}

// bagOf reports the bag of pulp that is pressed or strained: who punches a bag trains.
func (r *reader) bagOf(k int, deed string) bool {
	return (deed == "pressed" || deed == "strained") && r.items[k].has(cAside, "bag")
}

// markParts marks what stands for a wine in its object, "the lot", "the rest of it": there it
// is none of the other things that the word is said of.
func (r *reader) markParts(from, to int) {
	for k := from; k < to; k++ {
		it := &r.items[k]
		if (it.has(cAside, "part") || it.has(cAside, "bag")) && it.used == "" && it.batch == 0 && !it.is(cObs) && !it.is(cMaterial) && !it.is(cTType) && !it.is(cVessel) || isVolumeUnit(it.name(cUnit)) && it.used == "" {
			it.used = "object"
		}
	}
}

// ofWine reports a word for what the cellar's deeds are done to: a batch, what it is made of,
// what it is kept in, and what stands for it.
func (it *item) ofWine() bool {
	return it.batch > 0 || it.is(cVessel) || it.is(cMaterial) || it.is(cFruit) || it.is(cTType) || it.is(cNewword) || it.is(cKind) || it.is(cPron) || it.is(cSet) || it.is(cAirlock) ||
		it.is(cLastOne) || it.is(cNumber) || it.is(cOrdinal) || it.name(cUnit) == "bottle" || it.name(cUnit) == "half bottle" || it.is(cStarter) && it.name(cStarter) != "portion" || it.has(cAside, "part")
}

// fedTo reports that what has a batch's name was given to an animal, and no bottle of it.
func (r *reader) fedTo(i int) bool {
	_, to := r.clauseOf(i)
	beast := false
	for k := i + 1; k < to; k++ {
		it := &r.items[k]
		if it.name(cUnit) == "bottle" {
			return false
		}
		beast = beast || it.has(cAside, "beast") && it.batch == 0
	}
	return beast
}
