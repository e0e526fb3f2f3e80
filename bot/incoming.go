package bot

import (
	"time"

	"mustbook/store"
)

// InKind says what came in.
type InKind int

// What can come in.
const (
	Text    InKind = iota // a message
	Edited                // the new text of an earlier message
	Pressed               // a button of the bot's
	Photo                 // a picture, with its caption in Text
	Voice                 // a voice note or another kind that cannot be read
	File                  // a document that may be taken in
)

// Incoming is one thing that a member said or did in an admitted chat. Whoever
// makes one has found Chat and Member in the book already (see Access).
type Incoming struct {
	Kind       InKind
	Chat       store.Chat
	Member     store.Member
	OriginChat int64     // chat id as the platform gave it; part of the message's key
	MessageID  int64     // the platform's message id; for a press that of the bot's message
	At         time.Time // when it was sent (of an edit, when it was edited)
	Now        time.Time // the instant of handling
	Text       string
	ReplyTo    int64  // platform message id replied to; 0 none
	ReplyText  string // its text, as the platform shows it
	ReplyToBot bool   // the message replied to is the bot's
	Thread     int64  // forum topic; 0 none

	ThreadTitle string // what the topic is called, where the platform tells
	Mention     bool   // addressed by @name
	Forwarded   bool
	Anonymous   bool   // an anonymous admin or a channel: may log, nothing else
	Button      string // key of the button pressed
	Callback    string // the platform's id of the press
	Photo       *Picture
	File        *Attached
	Quick       bool // several messages wait: answer without a new forecast
	Rush        bool // a great many wait: the reminders are looked at by the next tick
}

// Picture is a photo as the platform knows it; Bytes only where it is at hand.
type Picture struct {
	FileID, FileUnique string
	Album              string // of pictures sent together; empty for one alone
	Bytes              []byte
}
