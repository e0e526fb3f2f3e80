package parse

import (
	"slices"
	"strings"
)

// slashTopics are the menu's commands.
var slashTopics = map[string]string{"now": TopicStatus, "next": TopicNext, "book": TopicList, "graph": TopicGraph, "sheet": TopicSheet, "bottles": TopicBottles, "start": TopicStart, "help": TopicHelp, "settings": TopicSettings, "admit": TopicAdmit}

// slash reads "/now" and "/now@bot". An unknown command in private is
// help. The name behind the @ must be the bot's own, where the caller
// knows it. Strangers' commands are silence in a group and help in
// private.
func (r *reader) slash() (Intent, bool) {
	if len(r.items) < 2 || !r.items[0].punct("/") || !r.items[1].glued || r.items[1].kind != tWord {
		return Intent{}, false
	}
	for k := 0; k < len(r.items) && (k < 2 || r.items[k].glued); k++ {
		if k >= 2 && !r.items[k].punct("@") && r.items[k-1].punct("@") && r.ctx.BotName != "" && fold(r.ctx.BotName) != r.items[k].fold {
			return r.ignore("a command to another bot"), true
		}
	}
	cmd := r.items[1].fold
	if cmd == "undo" {
		return r.undo()
	}
	t := slashTopics[cmd]
	if t == "" {
		if r.ctx.Group && !r.addressed() {
			return r.ignore("an unknown command"), true
		}
		t = TopicHelp
	}
	in := Intent{Kind: Question, Topic: t, Batch: r.meantBatch()}
	if t == TopicStart {
		if rest := strings.Fields(r.text); len(rest) > 1 {
			in.Args = map[string]any{"text": rest[1]}
		}
	}
	return in, true
}

// command reads settings and short requests. In a group they need to be
// addressed or to name a batch. A request is short and begins with its
// word; a longer text that only contains the word is talk or a question
// with its mark. The order of the table decides between two that fit.
func (r *reader) command() (Intent, bool) {
	if in, ok := r.runningCount(); ok {
		return in, true
	}
	whole := r.wholeNames()
	if off := slices.Contains(whole, "no minors"); off || slices.Contains(whole, "minors") { // said of the group that reads it
		return Intent{Kind: Question, Topic: TopicSetMinors, Args: map[string]any{"off": off}}, true
	}
	if r.ctx.Group && !r.addressed() && r.namedBatch() == 0 {
		return Intent{}, false
	}
	if in, ok := r.setting(); ok {
		return in, true
	}
	if in, ok := r.deleting(); ok {
		return in, true
	}
	if in, ok := r.merging(); ok {
		return in, true
	}
	if in, ok := r.reminderSetting(); ok {
		return in, true
	}
	f := withoutPlease(strings.TrimSpace(strings.TrimRight(strings.ReplaceAll(r.folded, " u ", " you "), " .!\n")))
	words := countWords(f)
	if b := r.onlyBatch(); b > 0 {
		return Intent{Kind: Question, Topic: TopicSwitch, Batch: r.ctx.Batches[b-1].N}, true
	}
	if b := strings.TrimRight(f, "? "); b != f && !strings.Contains(b, "?") && words <= 3 {
		f = b
		if !r.wholeCommand(f) {
			return Intent{}, false
		}
	} else if strings.Contains(f, "?") {
		return Intent{}, false
	}
	if in, ok := r.conversion(); ok {
		return in, true
	}
	f, words = withoutAsking(f, words)
	if r.lastReadings() {
		return Intent{Kind: Question, Topic: TopicHistory, Batch: r.meantBatch()}, true
	}
	named, behind := r.namedBatch() > 0, ""
	if named && words <= 4 {
		behind = r.behindFirst(f)
	}
	var first initials
	for _, head := range []string{f, behind} {
		if head != "" {
			first |= initial(head[0])
		}
	}
	for i := range cutCommands {
		c := &cutCommands[i]
		if c.groups[0].first&first == 0 {
			continue
		}
		w := c.groups[0].begin(f)
		if n := c.groups[0].begin(behind); w == 0 && n > 0 {
			w = n + 1
		}
		if c.topic == TopicRemind && r.saidInGroup() && !hasAny(f, "remind me|remind us") { // "reminder: apple needs stirring" is for the people
			continue
		}
		if w == 0 || !r.commandFits(c.topic, words-w, named) {
			continue
		}
		if c.topic == TopicAway && r.gravityTyped() { // "away to bed, 1.044"
			continue
		}
		if c.topic == TopicMute && r.saidInGroup() && hasAny(f, "be quiet|stay quiet|keep quiet|hush|shut up|alone|peace") { // "hush, the elder is asleep"
			continue
		}
		q := &question{topic: c.topic, args: map[string]any{}}
		r.commandArgs(q)
		return Intent{Kind: Question, Topic: q.topic, Args: q.args, Batch: r.meantBatch()}, true
	}
	return Intent{}, false
}

// lastReadings reads "last 5 readings merlot": a number between "last" and what was
// measured counts entries of the book, where nothing but a name stands beside.
func (r *reader) lastReadings() bool {
	last := -1
	for k := range r.items {
		it := &r.items[k]
		switch {
		case last < 0 && k+2 < len(r.items) && (it.fold == "last" || it.fold == "latest") && r.items[k+1].kind == tNum && r.items[k+1].num.whole():
			last = k
		case last >= 0 && k == last+1:
		case last >= 0 && k == last+2:
			switch it.fold {
			case "readings", "gravities", "measurements", "entries", "numbers", "notes":
			default:
				return false
			}
		case it.batch > 0, it.is(cArt), it.fold == "the", it.fold == "of", it.fold == "for", it.fold == "show", it.fold == "me", it.fold == "please", it.punct(":"):
		default:
			return false
		}
	}
	return last >= 0
}

// wholeCommand reports a text that is a command and nothing else.
// "members?" is the command with a mark behind it.
func (r *reader) wholeCommand(f string) bool {
	for i := range cutCommands {
		if slices.Contains(cutCommands[i].groups[0].forms, f) {
			return true
		}
	}
	return false
}

// withoutPlease drops politeness from the end of a request.
func withoutPlease(f string) string {
	for _, p := range []string{" please", " pls", " plz", " thanks", " thank you"} {
		if rest, ok := strings.CutSuffix(f, p); ok {
			return strings.TrimRight(rest, " ,.")
		}
	}
	return f
}

// withoutAsking drops "please show me the" from the head of a request.
// Politeness is no part of a command.
func withoutAsking(f string, words int) (string, int) {
	for _, p := range []string{"please ", "can i have ", "can we have ", "could i have ", "could we have ", "can you ", "could you ", "would you ", "please ", "let me see ", "let us see ", "let me have ", "let us have ", "show me ", "show us ", "send me ", "send us ", "give me ", "give us ", "get me ", "get us ", "post ", "show ", "send ", "give ", "get ", "print ", "all ", "the ", "a ", "of ", "our ", "my "} {
		if rest, ok := strings.CutPrefix(f, p); ok && rest != "" {
			f = rest
			words -= countWords(p)
		}
	}
	return f, words
}

// conversion reads "72f in c", "100 oe to brix": a number, a unit, another
// unit. It must be the whole message: "1.032 19c in the cellar" has an
// "in" too.
func (r *reader) conversion() (Intent, bool) {
	if n := len(r.items); n < 3 || n > 6 || r.items[0].kind != tNum {
		return Intent{}, false
	}
	u := r.wantedUnit(0, len(r.items))
	if u == "" || !r.items[len(r.items)-1].is(cUnit) && r.items[len(r.items)-1].name(cLabel) != "sg" {
		return Intent{}, false
	}
	q := &question{topic: TopicConvert, args: map[string]any{"to": u}}
	r.argument(q, 0)
	return Intent{Kind: Question, Topic: TopicConvert, Args: q.args}, true
}

// onlyBatch is the batch of a message that is nothing but its name. Naming
// a batch alone means: this one from now on.
func (r *reader) onlyBatch() int {
	b := 0
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.batch > 0 && b == 0:
			b = it.batch
		case it.kind == tPunct && !it.punct("?") || it.fold == "the":
		default:
			return 0
		}
	}
	return b
}

// behindFirst is what a request says behind the batch that it begins with: people put
// that first, "gorse graph", "show me the pinot sheet". f is without its politeness.
func (r *reader) behindFirst(f string) string {
	for i := range r.items {
		it := &r.items[i]
		if it.batch == 0 {
			continue
		}
		if rest, ok := strings.CutPrefix(f, it.fold); ok {
			return strings.TrimPrefix(strings.TrimLeft(rest, " "), "'s ")
		}
		break
	}
	return ""
}

// commandFits says how many words may follow a command. Those that take a
// text may go on; the others must end, but for a batch's name. A number in
// the text mostly means that something is told, not asked, so only topics
// with arguments may have one.
func (r *reader) commandFits(topic string, rest int, named bool) bool {
	switch topic {
	case TopicSugarTo, TopicHoneyTo, TopicWaterTo:
		for i := range r.items {
			if gravityItem(&r.items[i]) {
				return true
			}
		}
		return false
	case TopicRemind, TopicAway, TopicConvert, TopicSulphite, TopicSorbate, TopicBlend, TopicPriming, TopicSweeten, TopicPotential, TopicSnooze, TopicBottlesFrom:
		return true
	case TopicLikeLast: // "same as yesterday" is a note, "same again, 0.994" a reading
		if r.gravityTyped() && !named {
			return false
		}
		return named || strings.Contains(r.folded, "year") || strings.Contains(r.folded, "again") || rest == 0
	case TopicDelete, TopicRestore, TopicMerge, TopicSplit, TopicReopen, TopicSwitch:
		return named || rest == 0 || topic == TopicMerge || topic == TopicRestore || topic == TopicReopen
	case TopicMakeKeeper:
		return strings.Contains(r.folded, "keeper")
	case TopicGraph, TopicSheet, TopicLabel:
		if topic == TopicLabel && r.hasWord(1, "printed", "done", "made", "cut", "ordered", "stuck", "glued", "on", "ready", "finished") { // told, not asked for
			return false
		}
		return !r.hasNumber() && (rest <= 0 || named && rest <= 3) || r.onlyNames()
	case TopicStart:
		return rest <= 1 && !r.hasNumber() && len(r.items) <= 2 && rest == 0
	case TopicMute, TopicUnmute:
		return rest <= 9 && !r.hasNumber() || rest <= 8 && r.pauses() && len(r.daysAhead()) == 1
	case TopicForget:
		f := r.folded
		return !r.hasNumber() && (rest == 0 || rest <= 3 && hasAny(f, "everything|book|all|backup"))
	case TopicExport:
		return rest <= 6 && !r.hasNumber()
	case TopicInvite, TopicHelp:
		return rest <= 3 && !r.hasNumber()
	}
	return !r.hasNumber() && (rest <= 0 || named && rest <= 3 || rest == 1 && r.items[len(r.items)-1].is(cFill) || rest == 1 && r.items[len(r.items)-1].is(cThanks) || topic == TopicABV && rest <= 2 && !r.hasFault())
}

// pauses reports a rest of reminders with its end: "pause elder until 10 july".
func (r *reader) pauses() bool {
	return hasAny(r.folded, "pause|rest|mute|stop|no") && hasAny(r.folded, "until|till|til")
}

// onlyNames reports a request behind which nothing but names can stand: "graph elder
// 25 and elder 26". The batches may be closed ones, of which nothing is known here;
// so a number passes behind a word, but no unit and nothing shaped like a gravity.
func (r *reader) onlyNames() bool {
	if len(r.items) > 16 || r.items[0].fold == "plot" {
		return false
	}
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.batch > 0:
		case it.kind == tNum && (i < 2 || !it.num.whole() || it.num.val > 9999 || gravityItem(it)), it.kind == tCode, it.kind == tLine,
			i > 0 && (it.is(cUnit) || it.is(cNoun) || it.is(cLabel) || it.is(cQ) || it.is(cVerb)):
			return false
		}
	}
	return true
}

// hasFault reports words of smell or unknown words, with which a text is
// hardly a request.
func (r *reader) hasFault() bool {
	for i := range r.items {
		if r.items[i].is(cFault) || !r.items[i].known() {
			return true
		}
	}
	return false
}

// hasNumber reports a number other than a batch's.
func (r *reader) hasNumber() bool {
	for i := range r.items {
		if r.items[i].kind == tNum && !(i > 0 && r.items[i-1].punct("#")) && r.items[i].batch == 0 {
			return true
		}
	}
	return false
}

// commandArgs keeps the text for topics that need more than numbers: the
// bot's own grammar for blends and merges reads it again.
func (r *reader) commandArgs(q *question) {
	switch q.topic {
	case TopicLikeLast:
		r.arguments(q, 0, len(r.items))
		if q.args == nil {
			q.args = map[string]any{}
		}
		q.args["text"] = strings.TrimSpace(r.text)
	case TopicRemind, TopicAway, TopicSnooze, TopicMakeKeeper, TopicMerge, TopicSplit, TopicRestore, TopicDelete, TopicReopen,
		TopicGraph, TopicSheet, TopicLabel, TopicForget:
		q.args["text"] = strings.TrimSpace(r.text)
	case TopicBlend:
		q.args["text"] = strings.TrimSpace(r.text)
		return
	case TopicMute, TopicUnmute:
		r.muteArgs(q)
	default:
		r.arguments(q, 0, len(r.items))
		return
	}
	switch q.topic {
	case TopicForget:
		q.args["backups"] = hasAny(r.folded, "backup")
	case TopicReopen:
		q.args["bare"] = r.onlySmallWords(1)
	case TopicRemind:
		r.remindArgs(q)
	case TopicAway:
		r.awayArgs(q)
	case TopicSnooze:
		r.snoozeArgs(q)
	}
}
