package bot

import (
	"bytes"
	"context"
	"io"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/store"
)

// largestExport is how many live entries a chat can carry as one file: an entry takes
// some 400 bytes, and the platform takes 50 MB.
const largestExport = 100_000

// JSONFile is the whole book in one file.
const JSONFile = "mustbook.json"

// exportFiles are the files of an export, in the order in which they are sent.
var exportFiles = []string{JSONFile, EntriesCSV, BatchesCSV, BottlesCSV}

// askExport asks twice before the book leaves as files.
func (t *turn) askExport() error {
	if no := keeperInPrivate(t.in); no != "" {
		return t.reply(reply{Lines: []string{no}})
	}
	return t.reply(reply{Lines: say.AskExport(), Buttons: []choice{{say.ExportIt, action{Do: doExport, Key: "ask"}}, {say.Drop, action{Do: doDrop, Key: "book"}}}})
}

// export asks again, then sends the files: each is written when it is sent.
func (t *turn) export(a action) error {
	if no := keeperInPrivate(t.in); no != "" {
		return t.reply(reply{Lines: []string{no}})
	}
	entries := len(t.bk.settled)
	for _, es := range t.bk.entries {
		entries += len(es)
	}
	switch {
	case entries > largestExport:
		return t.reply(reply{Lines: say.ExportTooLarge(), Whole: true})
	case a.Key == "ask":
		return t.reply(reply{Lines: say.AskExportAgain(len(t.bk.batches), entries), Buttons: []choice{
			{say.ExportAll, action{Do: doExport, Key: "sure"}}, {say.Drop, action{Do: doDrop, Key: "book"}}}})
	}
	for _, name := range exportFiles {
		if err := t.reply(reply{Lines: []string{say.ExportFile(name)}, Kind: "document", Render: parse.TopicExport + " " + name, Whole: true}); err != nil {
			return err
		}
	}
	return nil
}

// exportFile writes one file of an export.
func (b *Bot) exportFile(ctx context.Context, tx *store.Tx, book int64, name string, now time.Time) (Drawn, error) {
	var w bytes.Buffer
	if name == JSONFile {
		err := b.ExportJSON(ctx, tx, book, now, &w)
		return Drawn{Name: name, Data: w.Bytes()}, err
	}
	err := b.ExportCSV(ctx, tx, book, now, func(n string) (io.WriteCloser, error) {
		if n == name {
			return shut{&w}, nil
		}
		return shut{io.Discard}, nil
	})
	return Drawn{Name: name, Data: w.Bytes()}, err
}

// shut is a writer that needs no closing.
type shut struct{ io.Writer }

func (shut) Close() error { return nil }
