package bot

import (
	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// reopen puts a batch that is empty or bottled back among those at work: the one named,
// else the one last spoken of, else the newest that is closed. A name that no closed batch
// has never reopens another.
func (t *turn) reopen(in parse.Intent) error {
	said := text(in.Args, "text")
	var closed []*ferment.State
	var named, focus *ferment.State
	n, err := t.focus()
	if err != nil {
		return err
	}
	for _, s := range t.bk.batches {
		if s.Stage != ferment.Empty && s.Stage != ferment.Bottled {
			continue
		}
		closed = append(closed, s)
		if parse.NamesWine(said, s.Name) {
			named = s
		}
		if s.N == n {
			focus = s
		}
	}
	bare := in.Args["bare"] == true
	switch {
	case named != nil:
		return t.recordAs(named, ferment.DeedReopened)
	case bare && focus != nil:
		return t.recordAs(focus, ferment.DeedReopened)
	case bare && len(closed) == 1:
		return t.recordAs(closed[0], ferment.DeedReopened)
	}
	return t.reply(reply{Lines: say.NothingClosed(closed), Whole: true})
}
