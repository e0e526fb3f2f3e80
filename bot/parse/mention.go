package parse

import "strings"

// withoutMention drops the bot's own name from the ends of a text, with its @ or as a
// plain word: it says whom the message is for, not what it says. What tells of the bot
// ("mustbook says 1.031", "put it in mustbook") keeps the name.
func (ctx *Context) withoutMention(text string) string {
	t := strings.TrimSpace(text)
	first, rest, more := strings.Cut(t, " ")
	rest = strings.TrimSpace(rest)
	if more && ctx.unknownName(t, first) {
		return strings.TrimSpace(strings.TrimLeft(rest, "-–—"))
	}
	if !more {
		return text
	}
	name := ctx.botName()
	called := isName(first, name)
	switch second, rest2, ok := strings.Cut(rest, " "); {
	case called && ctx.spokenOf(first, rest):
		ctx.told = true
		return text
	case called || ctx.own(first):
		ctx.Mention = true
		return withoutVocative(strings.TrimSpace(strings.TrimLeft(rest, "-–—")))
	case ok && (ctx.own(second) || isName(second, name) && greeting(first)): // "hey @bot new cider"
		ctx.Mention = true
		return first + " " + strings.TrimSpace(rest2)
	}
	i := strings.LastIndexByte(t, ' ')
	last := t[i+1:]
	called = isName(last, name)
	if called && thingBefore(t[:i]) {
		ctx.told = true
		return text
	}
	if called || ctx.own(last) {
		ctx.Mention = true
		t = strings.TrimRight(strings.TrimSpace(t[:i]), ",")
		if strings.HasSuffix(last, "?") {
			t += "?"
		}
		return t
	}
	return text
}

// withoutVocative drops a kind word and its sign behind the bot's name: "dear, new peach kit".
func withoutVocative(t string) string {
	i := strings.IndexAny(t, ",:!")
	if i < 1 || i > 16 || !oneWord(strings.TrimSpace(t[:i])).has(cGuard, "dear") {
		return t
	}
	return strings.TrimSpace(t[i+1:])
}

// Spoken is a text without the bot's own @name: "/now@cellar_bot" and "@cellar_bot
// status" say no more than the words beside it.
func Spoken(text, name string) string {
	const ends = ",:;.!?"
	out := text
	for _, w := range strings.Fields(text) {
		bare := strings.TrimRight(w, ends)
		command, at, found := strings.Cut(bare, "@")
		switch {
		case !found || !strings.EqualFold(at, name):
		case command == "":
			out = strings.Replace(out, w, "", 1)
		case strings.HasPrefix(command, "/"):
			out = strings.Replace(out, w, command, 1)
		}
	}
	if out == text {
		return text
	}
	return strings.TrimSpace(out)
}

// own reports the bot's @name; where the caller does not know it, any that is
// mentioned.
func (ctx *Context) own(w string) bool {
	w = strings.TrimRight(w, ":,.!?")
	return len(w) > 1 && w[0] == '@' && (ctx.BotName != "" && fold(w[1:]) == fold(ctx.BotName) || (ctx.BotName == "" || ctx.anyName) && ctx.Mention && isLetterAt(w, 1))
}

// programName is what the bot is called where nobody has named it.
const programName = "mustbook"

// botName is the name by which the bot is called, folded.
func (ctx *Context) botName() string {
	if ctx.BotName == "" {
		return programName
	}
	return fold(ctx.BotName)
}

// isName reports a folded name as a plain word.
func isName(w, name string) bool { return fold(strings.TrimRight(w, ":,.!?")) == name }

// unknownName reports a text that is said to mention the bot, whose name the caller does
// not know: the word at its head that means nothing here, and begins no batch's name,
// is the bot's.
func (ctx *Context) unknownName(text, first string) bool {
	w := strings.TrimRight(first, ":,.!")
	if ctx.BotName != "" || !ctx.Mention || len(w) < 4 || strings.Contains(text, "@") || strings.Contains(fold(text), programName) {
		return false
	}
	it := oneWord(w)
	for i := range ctx.Batches {
		if strings.HasPrefix(fold(ctx.Batches[i].Name), it.fold) {
			return false
		}
	}
	return len(it.senses) == 0 && lexicon().nearMiss(it.fold) == nil
}

// spokenOf reports that the name at the head of a text is what the text is about: a
// verb of the third person follows it with no sign between. "Is" and "has" open a
// question too, before a pronoun, an article or a batch.
func (ctx *Context) spokenOf(name, rest string) bool {
	verb, rest, _ := strings.Cut(rest, " ")
	tells := oneWord(verb)
	if strings.ContainsAny(name, ":,.!?") || !tells.is(cTells) {
		return false
	}
	next, _, _ := strings.Cut(strings.TrimSpace(rest), " ")
	if tells.name(cTells) != "aux" || next == "" {
		return true
	}
	it := oneWord(strings.TrimRight(next, ":,.!?"))
	if it.is(cPron) || it.is(cArt) || it.is(cFruit) || it.fold == "the" || isDigit(next[0]) || strings.HasSuffix(rest, "?") {
		return false
	}
	for i := range ctx.Batches {
		if strings.HasPrefix(fold(ctx.Batches[i].Name), it.fold) && it.fold != "" {
			return false
		}
	}
	return true
}

// greeting reports a word with which somebody is addressed.
func greeting(w string) bool {
	it := oneWord(strings.TrimRight(w, ",.!"))
	return it.is(cThanks) || it.is(cFill)
}

// thingBefore reports that a text goes on to a thing or a person: "put it in mustbook"
// is not said to the bot.
func thingBefore(t string) bool {
	w := t[strings.LastIndexByte(t, ' ')+1:]
	return oneWord(w).is(cToward)
}

// oneWord is a single word with its senses.
func oneWord(w string) *item {
	it := &item{kind: tWord, text: w, fold: fold(w)}
	if f := lexicon().single(it.fold); f != nil {
		it.senses = f.senses
	}
	return it
}
