package parse

import "strings"

// deleting reads "delete damson", "remove batch 3": a verb and a batch, and nothing else.
// Without a batch it would be an undo.
func (r *reader) deleting() (Intent, bool) {
	switch r.items[0].fold {
	case "delete", "remove", "erase":
	default:
		return Intent{}, false
	}
	b := 0
	for i := 1; i < len(r.items); i++ {
		it := &r.items[i]
		switch {
		case it.batch > 0 && (b == 0 || b == it.batch):
			b = it.batch
		case it.fold == "the" || it.fold == "batch" || it.kind == tPunct && !it.punct("?"):
		default:
			return Intent{}, false
		}
	}
	if b == 0 {
		return Intent{}, false
	}
	return Intent{Kind: Question, Topic: TopicDelete, Args: map[string]any{"text": strings.TrimSpace(r.text)}, Batch: r.ctx.Batches[b-1].N}, true
}

// afterName is the folded text behind a batch's name that opens it: "damson check day 6"
// is told like "check day 6".
func (r *reader) afterName() string {
	k := 0
	for k < len(r.items) && (r.items[k].batch > 0 || k > 0 && r.items[k].punct(":") || k > 0 && r.items[k].punct(",")) {
		k++
	}
	if k == 0 || k == len(r.items) {
		return r.folded
	}
	return fold(r.text[r.items[k].start:])
}

// likePhrases say that a batch begins as an earlier one of its name did; likeNames that it
// begins as the one named behind them.
var (
	likePhrases = []string{"like last year's", "like last years", "like last year", "as last year", "like the last one", "like last time", "same as last year", "same as last time"}
	likeNames   = []string{"the same as the ", "the same as our ", "same as the ", "same as our ", "same way as the ", "like the ", "like our ", "just like the "}
)

// beginLike reads "new quince 10 l like last year" and "like the riesling: new kit 6 gal":
// what is begun, and that its sheet is the earlier one's.
func (r *reader) beginLike() (Intent, bool) {
	f := r.folded
	if len(f) != len(r.text) { // folded letters of another length: places do not match
		f = strings.ToLower(r.text)
	}
	if len(f) != len(r.text) || !strings.Contains(f, "like") && !strings.Contains(f, "as ") {
		return Intent{}, false
	}
	for _, p := range likePhrases {
		if i := strings.Index(f, p); i > 0 {
			return r.begunAs(r.text[:i], r.text[i+len(p):], "")
		}
	}
	for _, p := range likeNames {
		i := wordAt(f, p)
		if i < 0 {
			continue
		}
		name, rest := f[i+len(p):], ""
		if n := strings.IndexAny(name, ",:;.!\n"); n >= 0 {
			name, rest = name[:n], r.text[i+len(p)+n:]
		}
		if w := strings.Fields(name); len(w) > 0 && len(w) <= 3 {
			return r.begunAs(r.text[:i], rest, strings.Join(w, " "))
		}
	}
	return Intent{}, false
}

// begunAs reads what is left of a text as a begin like another batch: of the name given,
// else of its own. A kit or wine without a name of its own takes that.
func (r *reader) begunAs(before, behind, like string) (Intent, bool) {
	ctx := *r.ctx
	ctx.Pending, ctx.Explain = nil, false
	in := Message(strings.TrimSpace(strings.TrimRight(before, " ,;-")+" "+strings.TrimLeft(behind, " ,;:-")), ctx)
	if in.Kind == Ask && in.Ask == "gallon" { // which gallon comes first
		return in, true
	}
	if in.Kind != NewBatch {
		return Intent{}, false
	}
	args := map[string]any{"text": strings.TrimSpace(r.text), "begin": true}
	for _, e := range in.Entries {
		switch e.Quantity {
		case "new_batch":
			args["name"] = e.Batch
			if like != "" && e.Batch == e.Type {
				args["name"] = like
			}
		case "volume":
			args["volume"], args["unit"] = *e.Value, e.Unit
		}
	}
	if like != "" {
		args["like"] = like
	}
	return Intent{Kind: Question, Topic: TopicLikeLast, Args: args}, true
}
