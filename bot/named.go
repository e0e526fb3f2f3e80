package bot

import (
	"mustbook/bot/parse"
	"mustbook/ferment"
)

// named finds the batches of a request, in the order in which the text names them. Those
// that hold no wine any more are found too, which is what sets this apart from how a
// reading finds its batch.
func (bk *book) named(text string) (out []*ferment.State) {
	for _, n := range parse.Batches(text, winesOf(bk.batches)) {
		out = append(out, bk.batch(n))
	}
	return out
}
