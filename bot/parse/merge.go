package parse

import "strings"

// togetherWords begin a text by which wines are put together, in the imperative or told
// as done. Of the second list each also means other things, so that two batches must be
// named, or one and "together".
var (
	mergeWords    = anyOf("merge|merged|combine|combined|unite|united")
	togetherWords = anyOf("put|pour|poured|tip|tipped|mix|mixed|join|joined")
)

// merging reads "put elder and apple together", "merged a and b yesterday". The bot's own
// grammar reads the text again for the parts and their litres.
func (r *reader) merging() (Intent, bool) {
	f := strings.TrimRight(r.folded, " .!\n")
	if strings.Contains(f, "?") {
		return Intent{}, false
	}
	for _, p := range []string{"please ", "we ", "i ", "just ", "let's ", "ok "} {
		f = strings.TrimPrefix(f, p)
	}
	merges, together := mergeWords.begin(f) > 0, togetherWords.begin(f) > 0
	if !merges && !together {
		return Intent{}, false
	}
	seen := map[int]bool{}
	for i := range r.items {
		if b := r.items[i].batch; b > 0 {
			seen[b] = true
		}
	}
	switch {
	case merges && len(seen) > 0:
	case together && (len(seen) > 1 && !r.hasDeedWord() || len(seen) > 0 && hasAny(f, "together")):
	default:
		return Intent{}, false
	}
	args := map[string]any{"text": strings.TrimSpace(r.text)}
	for _, t := range r.times {
		if !t.future && !t.vague && !t.when.Now() {
			args["at"], args["day"] = t.when.At, t.when.Day
		}
	}
	return Intent{Kind: Question, Topic: TopicMerge, Args: args, Batch: r.meantBatch()}, true
}

// hasDeedWord reports a material or a deed beside the batches: "put sugar in elder and
// apple" is an addition.
func (r *reader) hasDeedWord() bool {
	for i := range r.items {
		if r.items[i].is(cMaterial) || i > 0 && r.items[i].is(cDeed) {
			return true
		}
	}
	return false
}

// toppingNow reports "top up gorse with 0.5 l of elder": told in the imperative, with its
// litres and the wine that they come from, it is done. With water it may be a question.
func (r *reader) toppingNow(i int) bool {
	if i > 0 || r.items[i].name(cAct) != "topped up" || strings.Contains(r.text, "?") {
		return false
	}
	litres, wines := false, 0
	for k := range r.items {
		it := &r.items[k]
		litres = litres || it.kind == tNum && k+1 < len(r.items) && isVolumeUnit(r.items[k+1].name(cUnit))
		if it.batch > 0 {
			wines++
		}
	}
	return litres && wines > 1
}
