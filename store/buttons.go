package store

import (
	"encoding/base32"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"
)

// Button is a button of an answer and what pressing it does. Key, Book, Chat and Out
// are filled in by the store. A press counts only where chat, book and a present
// membership match, which the caller compares.
type Button struct {
	Key     string
	Book    int64
	Chat    int64
	Out     int64
	Label   string
	Action  []byte // text
	Expires time.Time
}

// shownButton is a button as it stands in the row of its answer.
type shownButton struct {
	Key     string `json:"key"`
	Label   string `json:"label"`
	Action  string `json:"action"`
	Expires string `json:"expires"`
}

// keys are letters in the order of the bytes.
var keys = base32.HexEncoding.WithPadding(base32.NoPadding)

// A key is 28 letters, well inside the 64 bytes that the platform allows: the number of
// the answer, by which its row is found, and 96 random bits.
const (
	numberBytes = 5
	randomBytes = 12
)

// errNoRand is a fault of the wiring: a key that can be guessed must never be made.
var errNoRand = errors.New("no source of random bytes was given")

// key gives each button of an answer its key.
func (tx *Tx) key(o *Out) error {
	if len(o.Buttons) == 0 {
		o.Buttons = nil
		return nil
	}
	if tx.db.opt.Rand == nil {
		return errNoRand
	}
	o.Buttons = slices.Clone(o.Buttons)
	for i := range o.Buttons {
		b := &o.Buttons[i]
		var raw [8 + randomBytes]byte
		binary.BigEndian.PutUint64(raw[:8], uint64(o.ID))
		if _, err := io.ReadFull(tx.db.opt.Rand, raw[8:]); err != nil {
			return err
		}
		*b = Button{keys.EncodeToString(raw[8-numberBytes:]), o.Book, o.Chat, o.ID, b.Label, blob(b.Action), asRead(b.Expires)}
	}
	return nil
}

// shown tells how buttons stand in the row of their answer.
func shown(bs []Button) string {
	if len(bs) == 0 {
		return ""
	}
	out := make([]shownButton, len(bs))
	for i, b := range bs {
		out[i] = shownButton{b.Key, b.Label, string(b.Action), toText(b.Expires)}
	}
	raw, err := json.Marshal(out)
	if err != nil {
		panic("store: buttons: " + err.Error()) // four texts always can
	}
	return string(raw)
}

// buttons reads them again.
func (o *Out) buttons(shown string) error {
	if shown == "" {
		return nil
	}
	var bs []shownButton
	if err := json.Unmarshal([]byte(shown), &bs); err != nil {
		return fmt.Errorf("%w: buttons: %w", ErrDamaged, err)
	}
	o.Buttons = make([]Button, len(bs))
	for i, b := range bs {
		ends, err := parseStamp(b.Expires)
		if err != nil {
			return err
		}
		o.Buttons[i] = Button{b.Key, o.Book, o.Chat, o.ID, b.Label, []byte(b.Action), ends}
	}
	return nil
}

// Button finds a button by its key; ErrExpired where its time is over.
func (tx *Tx) Button(key string, now time.Time) (Button, error) {
	raw, err := keys.DecodeString(key)
	if err != nil || len(raw) != numberBytes+randomBytes {
		return Button{}, ErrNotFound
	}
	o, err := tx.Out(int64(binary.BigEndian.Uint64(append(make([]byte, 8-numberBytes), raw[:numberBytes]...))))
	if err != nil {
		return Button{}, err
	}
	for _, b := range o.Buttons {
		switch {
		case b.Key != key:
		case now.After(b.Expires):
			return b, ErrExpired
		default:
			return b, nil
		}
	}
	return Button{}, ErrNotFound
}

// PressOnce notes a press by the platform's id; false where it was noted before.
func (tx *Tx) PressOnce(id string) (bool, error) {
	n, err := tx.changed("INSERT OR IGNORE INTO press (id) VALUES (?)", id)
	return n == 1, err
}
