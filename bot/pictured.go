package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/store"
)

// kindGlance is a message with a picture of which nobody said that it is the
// cellar's: a group's. It is looked at for a code, and forgotten where it has none.
const kindGlance = "glance"

// albumMark stands before the album in the kind of a message: of pictures that were
// sent together one answer is enough where none has a code.
const albumMark = " of "

// picture keeps a photo; its caption is a message. What the photo shows is known,
// and answered, once it was looked at.
func (b *Bot) picture(ctx context.Context, tx *store.Tx, in Incoming) error {
	if in.Photo == nil {
		return nil
	}
	if _, err := tx.MessageByKey(in.OriginChat, in.MessageID); !errors.Is(err, store.ErrNotFound) {
		return err // handled before
	}
	if strings.TrimSpace(in.Text) != "" {
		withText := in
		withText.Kind = Text
		if err := b.text(ctx, tx, withText); err != nil {
			return err
		}
	}
	kind := "photo"
	if in.Chat.Group() && !in.ReplyToBot && !in.Mention && in.Thread == 0 {
		kind = kindGlance
	}
	if in.Photo.Album != "" {
		kind += albumMark + in.Photo.Album
	}
	msg, _, err := tx.AddMessage(store.Message{Book: in.Chat.Book, Chat: in.Chat.ID, Member: in.Member.ID, OriginChat: in.OriginChat,
		PlatformMessage: in.MessageID, Text: in.Text, At: in.At, Thread: in.Thread, ReplyTo: in.ReplyTo, Kind: kind})
	if err != nil {
		return err
	}
	bk, err := b.load(tx, in.Chat.Book, in.At, 0)
	if err != nil {
		return err
	}
	t := &turn{b: b, ctx: ctx, tx: tx, in: in, bk: bk, msg: msg}
	p := store.Photo{Book: bk.id, Message: msg.ID, FileID: in.Photo.FileID, FileUnique: in.Photo.FileUnique, At: in.At}
	if p.Batch, err = t.pictureOf(); err != nil {
		return err
	}
	if p.ID, err = tx.AddPhoto(p); err != nil || in.Photo.Bytes == nil {
		return err // the platform still has it
	}
	return b.lookAt(ctx, tx, p, in)
}

// pictureOf is the batch of a photo: that of its caption, of the message that it
// answers, else the one in focus.
func (t *turn) pictureOf() (int, error) {
	if n := t.batchOfMessage(t.msg.ID); n != 0 {
		return n, nil
	}
	if t.in.ReplyTo != 0 {
		if out, err := t.tx.OutByPlatform(t.in.Chat.ID, t.in.ReplyTo); err == nil && out.Batch != 0 {
			return out.Batch, nil
		}
	}
	return t.focus()
}

// lookAt looks at a picture that is at hand.
func (b *Bot) lookAt(ctx context.Context, tx *store.Tx, p store.Photo, in Incoming) error {
	code := ""
	if b.Look != nil {
		p.JPEG, code = b.Look(in.Photo.Bytes)
	}
	if err := tx.SetPhoto(p.ID, p.JPEG, code); err != nil {
		return err
	}
	return b.Pictured(ctx, tx, p, code, in.Now)
}

// voice answers what cannot be listened to; a group hears nothing of it.
func (b *Bot) voice(tx *store.Tx, in Incoming) error {
	if in.Chat.Group() {
		return nil
	}
	_, _, err := tx.Enqueue(store.Out{Book: in.Chat.Book, Chat: in.Chat.ID, Source: fmt.Sprintf("v%d:%d", in.OriginChat, in.MessageID), Kind: "reply",
		Text: say.Text(say.CannotListen()), ReplyTo: in.MessageID, Thread: in.Thread, Created: in.Now})
	return err
}

// Pictured answers a photo that was looked at: code is the text of its barcode, ""
// where none was read, and a photo without bytes is one that cannot be opened. A
// code is offered as the kit's serial; nothing of it is in the book until somebody
// says that it is one.
func (b *Bot) Pictured(_ context.Context, tx *store.Tx, p store.Photo, code string, now time.Time) error {
	m, err := tx.Message(p.Book, p.Message)
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	out := store.Out{Book: p.Book, Chat: m.Chat, Kind: "reply", Source: fmt.Sprintf("photo%d", p.ID), Batch: p.Batch, Message: m.ID,
		ReplyTo: m.PlatformMessage, Thread: m.Thread, Created: now}
	said, err := tx.EntriesOfMessage(p.Book, m.ID)
	if err != nil {
		return err
	}
	kind, album, together := strings.Cut(m.Kind, albumMark)
	if together && code == "" {
		out.Source = fmt.Sprintf("album%d:%s", m.Chat, album)
	}
	switch {
	case code != "":
		return b.offerSerial(tx, p, code, out)
	case kind == kindGlance:
		return errors.Join(tx.DropPhoto(p.Book, p.ID), tx.DropMessage(m.ID))
	case len(said) > 0:
		return nil // its caption was answered
	case len(p.JPEG) == 0:
		out.Text = say.Text(say.PhotoBroken())
	default:
		out.Text = say.Text(say.PhotoKept())
	}
	_, _, err = tx.Enqueue(out)
	return err
}

// mostOffered is how many batches are offered by buttons.
const mostOffered = 6

// offerSerial asks whether a code is the serial of the photo's batch, or of which.
func (b *Bot) offerSerial(tx *store.Tx, p store.Photo, code string, out store.Out) error {
	bk, err := b.load(tx, p.Book, out.Created, 0)
	if err != nil {
		return err
	}
	var offers []choice
	offer := func(label string, s *ferment.State) {
		offers = append(offers, choice{label, action{Do: doSerial, Message: p.Message, Batch: s.N, Text: code, Value: float64(p.ID)}})
	}
	s := bk.batch(p.Batch)
	name := ""
	if s != nil {
		name = s.Name
		offer(say.IsSerial, s)
	} else {
		for _, s := range bk.open() {
			if len(offers) < mostOffered {
				offer(say.Title(s.Name), s)
			}
		}
	}
	if len(offers) > 0 {
		offers = append(offers, choice{say.Drop, action{Do: doDrop}})
	}
	out.Text = say.Text(say.CodeRead(code, name, len(offers) > 0))
	for _, o := range offers {
		raw, err := json.Marshal(o.do)
		if err != nil {
			return err
		}
		out.Buttons = append(out.Buttons, store.Button{Label: o.label, Action: raw, Expires: out.Created.Add(buttonLives)})
	}
	_, _, err = tx.Enqueue(out)
	return err
}

// keepSerial puts the code of a photo into the book as a batch's serial.
func (t *turn) keepSerial(a action) error {
	return t.asMessage(a.Message, func() error {
		have, err := t.tx.EntriesOfMessage(t.bk.id, a.Message)
		if err != nil {
			return err
		}
		for _, e := range have {
			if e.Quantity == ferment.QKitSerial && e.Text == a.Text {
				return t.reply(reply{Lines: say.AlreadyThere()})
			}
		}
		s := t.bk.batch(a.Batch)
		if s == nil {
			return t.reply(reply{Lines: say.Gone()})
		}
		if err := t.tx.MovePhoto(t.bk.id, int64(a.Value), s.N); err != nil {
			return err
		}
		return t.keep(parse.Intent{Kind: parse.Event, Event: ferment.DeedSerial, Batch: s.N,
			Entries: []parse.Entry{{Quantity: string(ferment.QKitSerial), Text: a.Text, Batch: s.Name, BatchN: s.N, Deed: ferment.DeedSerial}}})
	})
}
