package store

import (
	"encoding/base32"
	"encoding/binary"
	"errors"
	"io"
	"strings"
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
	Action  []byte
	Expires time.Time
}

const buttonColumns = "key, book, chat, outbox, label, action, expires"

func scanButton(s scanner) (b Button, err error) {
	return b, s.Scan(&b.Key, &b.Book, &b.Chat, &b.Out, &b.Label, &b.Action, at(&b.Expires))
}

// keys are letters in the order of the bytes.
var keys = base32.HexEncoding.WithPadding(base32.NoPadding)

// errNoRand is a fault of the wiring: a key that can be guessed must never be made.
var errNoRand = errors.New("no source of random bytes was given")

// addButtons gives an answer its buttons, each under a key of 28 letters, well inside
// the 64 bytes that the platform allows: 96 random bits, behind the answer's number,
// which keeps the keys of a shared commit side by side in the file.
func (tx *Tx) addButtons(book, chat, out int64, bs []Button) error {
	if len(bs) == 0 {
		return nil
	}
	if tx.db.opt.Rand == nil {
		return errNoRand
	}
	var args []any
	for i, b := range bs {
		var raw [8 + 12]byte
		binary.BigEndian.PutUint64(raw[:8], uint64(out))
		if _, err := io.ReadFull(tx.db.opt.Rand, raw[8:]); err != nil {
			return err
		}
		args = append(args, keys.EncodeToString(raw[3:]), book, chat, out, i, b.Label, blob(b.Action), toText(b.Expires))
	}
	return tx.exec("INSERT INTO button (key, book, chat, outbox, ordinal, label, action, expires) VALUES (?,?,?,?,?,?,?,?)"+
		strings.Repeat(",(?,?,?,?,?,?,?,?)", len(bs)-1), args...)
}

// Button finds a button by its key; ErrExpired where its time is over.
func (tx *Tx) Button(key string, now time.Time) (Button, error) {
	b, err := one(tx, scanButton, "SELECT "+buttonColumns+" FROM button WHERE key = ?", key)
	if err == nil && now.After(b.Expires) {
		return b, ErrExpired
	}
	return b, err
}

// ButtonsOfAll returns the buttons of several answers, by answer and in their order.
func (tx *Tx) ButtonsOfAll(outs []int64) (map[int64][]Button, error) {
	of := map[int64][]Button{}
	err := each(tx, scanButton, func(b Button) error { of[b.Out] = append(of[b.Out], b); return nil },
		"SELECT "+buttonColumns+" FROM button WHERE outbox IN "+ofList+" ORDER BY outbox, ordinal", list(outs))
	return of, err
}

// ButtonsOf returns the buttons of an answer in their order.
func (tx *Tx) ButtonsOf(out int64) ([]Button, error) {
	return all(tx, scanButton, "SELECT "+buttonColumns+" FROM button WHERE outbox = ? ORDER BY ordinal", out)
}

// PressOnce notes a press by the platform's id; false where it was noted before.
func (tx *Tx) PressOnce(id string) (bool, error) {
	n, err := tx.changed("INSERT OR IGNORE INTO press (id) VALUES (?)", id)
	return n == 1, err
}
