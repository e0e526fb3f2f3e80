package parse

import "strings"

// exactName returns the batch (index+1) whose whole name or nickname begins at
// token i, the longest name first, and how many tokens it takes. "#3" is a name too.
func (r *reader) exactName(toks []token, i int) (batch, n int) {
	if toks[i].text == "#" && i+1 < len(toks) && toks[i+1].kind == tNum {
		return r.byNumber(toks[i+1].num), 2
	}
	for b, ws := range r.names {
		if len(ws) > n && matchWords(toks, i, ws) {
			batch, n = b+1, len(ws)
		}
		for _, nick := range r.ctx.Batches[b].Nicks {
			if nw := foldedWords(nick); len(nw) > n && matchWords(toks, i, nw) {
				batch, n = b+1, len(nw)
			}
		}
	}
	return batch, n
}

func (r *reader) byNumber(n number) int {
	for i := range r.ctx.Batches {
		if n.whole() && r.ctx.Batches[i].N == int(n.val) {
			return i + 1
		}
	}
	return 0
}

func matchWords(toks []token, i int, ws []string) bool {
	if len(ws) == 0 || len(ws) > len(toks)-i {
		return false
	}
	for k, w := range ws {
		if toks[i+k].fold != w {
			return false
		}
	}
	return true
}

// nameBeginnings finds names that were shortened or typed with a slip. It runs
// after the exact names: an exact name beats every beginning and near miss.
func (r *reader) nameBeginnings() {
	for i := range r.items {
		it := &r.items[i]
		if it.kind != tWord || it.batch > 0 || len(it.fold) < 3 || it.batchless() {
			continue
		}
		if b := r.oneBeginning(it.fold); b > 0 {
			it.batch, it.nearName = b, true
		} else if b := r.oneNearMiss(it.fold); b > 0 && (len(it.senses) == 0 || it.is(cFruit) || it.is(cGuard)) {
			it.batch, it.nearName = b, true
		}
	}
}

// batchless reports a word that means something else too plainly to be half a name.
func (it *item) batchless() bool {
	for _, s := range it.senses {
		if s.class != cFruit && s.class != cGuard && s.class != cKind {
			return true
		}
	}
	return false
}

// oneBeginning returns the only batch whose name begins with w; its plural counts.
func (r *reader) oneBeginning(w string) int {
	found := 0
	for b, ws := range r.names {
		if len(ws) == 0 {
			continue
		}
		whole := strings.Join(ws, " ")
		if strings.HasPrefix(whole, w) || w == whole+"s" || w == whole+"'s" || strings.TrimSuffix(w, "'s") == ws[0] {
			if found > 0 {
				return r.liveOf(found, b+1)
			}
			found = b + 1
		}
	}
	return found
}

// liveOf breaks a tie between two batches of one name: the one that is not bottled.
func (r *reader) liveOf(a, b int) int {
	bottledA, bottledB := r.ctx.Batches[a-1].bottled(), r.ctx.Batches[b-1].bottled()
	switch {
	case bottledA && !bottledB:
		return b
	case bottledB && !bottledA:
		return a
	}
	return 0
}

func (r *reader) oneNearMiss(w string) int {
	found := 0
	for b, ws := range r.names {
		if len(ws) != 1 || len(ws[0]) < minSlipLen || !oneSlip(w, ws[0]) {
			continue
		}
		if found > 0 {
			return 0
		}
		found = b + 1
	}
	return found
}

// bottled reports a batch of which only bottles are left.
func (b *Batch) bottled() bool { return b.Stage == "bottled" || b.Stage == "empty" }
