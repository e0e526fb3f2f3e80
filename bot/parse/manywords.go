package parse

import "strings"

// slippedWhole returns the only batch of a name of several words that stands at item i with
// one slip in the whole of it, or without its blanks, and how many items it takes: "lft
// carboy" for "left carboy", "oldtub" for "old tub". A name of less than five letters is too
// short for a slip.
func (r *reader) slippedWhole(i int) (batch, n int) {
	w := r.items[i].fold
	if b, n := r.partedName(i); b > 0 {
		return b, n
	}
	return r.only(func(b int, ws []string) int {
		switch {
		case len(ws) < 2 || len(ws[0]) == 0 || ws[0][0] != w[0] || len(r.joined[b]) <= minSlipLen:
		case len(w) > len(ws[0]) && r.unspaced(w, ws):
			return 1
		case len(ws) == 2 && i+1 < len(r.items) && r.items[i+1].fold == ws[1] && r.items[i+1].batch == 0 && len(w) >= minShortened && oneSlip(w, ws[0]):
			return 2
		}
		return 0
	})
}

// only returns the one batch whose name, cut into words, takes some items, and how many;
// of two the one that still holds wine, if only one does.
func (r *reader) only(takes func(b int, ws []string) int) (batch, n int) {
	for b, ws := range r.names {
		k := takes(b, ws)
		if k == 0 {
			continue
		}
		if batch > 0 {
			return r.liveOf(batch, b+1), k
		}
		batch, n = b+1, k
	}
	return batch, n
}

// partedName returns the only batch whose name of one word stands at item i as two, "white
// currant" for "whitecurrant", or the end of whose name of three and more words stands there.
func (r *reader) partedName(i int) (batch, n int) {
	if i+1 >= len(r.items) || r.items[i+1].kind != tWord || r.items[i+1].batch > 0 {
		return 0, 0
	}
	w, next := r.items[i].fold, r.items[i+1].fold
	return r.only(func(_ int, ws []string) int {
		switch {
		case len(ws) == 1 && len(w) >= minShortened && len(next) >= minShortened && len(ws[0]) == len(w)+len(next) && strings.HasPrefix(ws[0], w) && strings.HasSuffix(ws[0], next),
			len(ws) > 2 && ws[len(ws)-2] == w && ws[len(ws)-1] == next:
			return 2
		}
		return 0
	})
}

// minShortened is the shortest word that may be half a name.
const minShortened = 3

// unspaced reports the words of a name typed as one, with a slip at most.
func (r *reader) unspaced(w string, ws []string) bool {
	n := 0
	for _, x := range ws {
		n += len(x)
	}
	if len(w) < n-1 || len(w) > n+1 || n < minSlipLen {
		return false
	}
	var buf [40]byte
	whole := buf[:0]
	for _, x := range ws {
		whole = append(whole, x...)
	}
	return w == string(whole) || oneSlip(w, string(whole))
}

// likeNamed are the open batches whose names of several words end in the word behind "both"
// or "the two": "both carboys" are the left and the right one.
func (r *reader) likeNamed(k int) (bs []int) {
	_, w, ok := strings.Cut(r.items[k].fold, " ")
	if (!ok || !strings.HasSuffix(w, "s")) && k+1 < len(r.items) {
		k++
		w = r.items[k].fold
	}
	w, ok = strings.CutSuffix(w, "s")
	for b, ws := range r.names {
		if ok && len(ws) > 1 && ws[len(ws)-1] == w && !r.ctx.Batches[b].bottled() {
			bs = append(bs, b+1)
			r.items[k].used = "rest"
		}
	}
	return bs
}
