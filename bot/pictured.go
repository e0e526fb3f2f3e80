package bot

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/store"
)

// Pictured offers the code that a photo showed as the kit's serial. Nothing is
// stored until somebody says that it is one.
func (b *Bot) Pictured(_ context.Context, tx *store.Tx, p store.Photo, code string, now time.Time) error {
	if code == "" || p.Batch == 0 {
		return nil
	}
	m, err := tx.Message(p.Book, p.Message)
	if err != nil {
		return err
	}
	raw, err := json.Marshal(action{Do: doStore, Message: m.ID, Key: ferment.DeedSerial,
		Entries: []parse.Entry{{Quantity: string(ferment.QKitSerial), Text: code, BatchN: p.Batch, Deed: ferment.DeedSerial}}})
	if err != nil {
		return err
	}
	_, _, err = tx.Enqueue(store.Out{Book: p.Book, Chat: m.Chat, Kind: "reply", Source: fmt.Sprintf("photo%d", p.ID), Batch: p.Batch, Message: m.ID,
		ReplyTo: m.PlatformMessage, Text: say.Text([]string{"Code on the photo: " + say.Clip(code, 22), "Is it the kit's serial?"}), Created: now,
		Buttons: []store.Button{{Label: "It is the serial", Action: raw, Expires: now.Add(buttonLives)}}})
	return err
}
