package bot

import (
	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/store"
)

// Steps of forgetting; each button leads to the next.
const (
	forgetAsked   = "ask"
	forgetSure    = "sure"
	forgetBackups = "backups"
)

// askForget asks twice before a household leaves.
func (t *turn) askForget(in parse.Intent) error {
	if no := keeperInPrivate(t.in); no != "" {
		return t.reply(reply{Lines: []string{no}})
	}
	there := ""
	if in.Args["backups"] == true {
		there = forgetBackups
	}
	return t.reply(reply{Lines: say.AskForget(there != ""), Whole: true, Buttons: forgetChoices(say.LabelForget, forgetAsked, there)})
}

// forgetChoices are a step of forgetting and the way out; there says whether the
// backups were spoken of from the beginning.
func forgetChoices(label, step, there string) []choice {
	return []choice{{label, action{Do: doForget, Key: step, Text: there}}, {say.Drop, action{Do: doDrop, Key: "book"}}}
}

// forget goes on with it, if the presser still keeps the book.
func (t *turn) forget(a action) error {
	if no := keeperInPrivate(t.in); no != "" {
		return t.reply(reply{Lines: []string{no}})
	}
	switch a.Key {
	case forgetAsked:
		return t.reply(reply{Lines: say.AskForgetAgain(len(t.bk.batches)), Buttons: forgetChoices(say.LabelForgetAll, forgetSure, a.Text)})
	case forgetBackups:
		return t.forgetBackups()
	}
	if err := t.tx.Forget(t.bk.id); err != nil {
		return err
	}
	if a.Text == forgetBackups {
		return t.forgetBackups()
	}
	held, err := t.backupsHolding()
	if err != nil {
		return t.reply(reply{Lines: say.Forgotten(-1)}) // the book is empty all the same
	}
	r := reply{Lines: say.Forgotten(len(held))}
	if len(held) > 0 {
		r.Buttons = forgetChoices(say.LabelForgetBackups, forgetBackups, "")
	}
	return t.reply(r)
}

// backupsHolding are the nightly copies that still hold something of the book.
func (t *turn) backupsHolding() ([]string, error) {
	if t.b.Backups == "" {
		return nil, nil
	}
	return store.HoldingBackups(t.ctx, t.b.Backups, t.bk.id)
}

// forgetBackups takes the book out of the copies. A household that has begun anew in
// the meantime keeps what it has: a copy of the new book is made in the next night.
func (t *turn) forgetBackups() error {
	held, err := t.backupsHolding()
	for _, path := range held {
		if err == nil {
			err = store.ForgetInBackup(t.ctx, path, t.bk.id)
		}
	}
	if err != nil {
		return t.reply(reply{Lines: say.BackupsNotForgotten()})
	}
	return t.reply(reply{Lines: say.BackupsForgotten(len(held))})
}
