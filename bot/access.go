package bot

import (
	"context"
	"crypto/sha256"
	"encoding/base32"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"mustbook/store"
)

// Access decides who may speak to which book. What it must forget (wrong codes,
// strangers) it keeps in memory only; everything else is in the book.
//
// There are four ways in. The host's one-time code, printed where the program
// runs, makes the first book's keeper; it is dead once used, and so is every code
// of that kind until somebody at the machine asks for a new one. A link from the
// keeper admits one person, within a day; the transaction that admits uses it up,
// so a failure in between costs nobody their link and a second person gets in with
// none. A link from the host opens a book of its own. And a group that a keeper
// lets in makes members of everyone in it, for as long as they are in it.
//
// Nothing here trusts a button or a link for who presses it: each message and
// each press is resolved anew to a present membership of the chat's book. A chat is
// in one book at a time, and every query of the store is by book, so there is no
// way from one household to another.
//
// Guessing is bounded by people and in all; beyond the bounds the right code gets
// silence as well, else silence would tell a wrong one from a right one.
type Access struct {
	// Cry answers a cry for help about gas, glass, fire or poisoning, wherever it
	// comes from; late is set where the message was read long after it was sent.
	// nil: strangers' cries are not understood.
	Cry func(text string, late bool) (answer string, is bool)

	rand     io.Reader
	mu       sync.Mutex
	code     [32]byte // hash of the one-time code
	open     bool     // a code can be used
	salt     []byte
	botName  string
	tries    map[int64]*tries
	all      tries
	strayed  map[[32]byte]time.Time // strangers who had their line, by salted hash
	asked    map[[2]int64]time.Time // when the platform was asked about (group, user)
	standing map[int64]time.Time    // unadmitted groups that had their line
}

// codeLength is the least length of a given code and the length of a made one.
const codeLength = 12

// ErrCode is wrapped where a given code is too short or used up.
var ErrCode = errors.New("keeper code")

// NewAccess takes random bytes for links and salts.
func NewAccess(rand io.Reader) (*Access, error) {
	a := &Access{
		rand: rand, salt: make([]byte, 16), tries: map[int64]*tries{}, strayed: map[[32]byte]time.Time{},
		asked: map[[2]int64]time.Time{}, standing: map[int64]time.Time{},
	}
	if _, err := io.ReadFull(rand, a.salt); err != nil {
		return nil, fmt.Errorf("access: %w", err)
	}
	return a, nil
}

// SetBotName tells the bot's @name, of which links are made; without @.
func (a *Access) SetBotName(name string) { a.mu.Lock(); a.botName = name; a.mu.Unlock() }

// BotName is the bot's @name without @; empty where the platform has not told it.
func (a *Access) BotName() string { a.mu.Lock(); defer a.mu.Unlock(); return a.botName }

// Names in the table of settings of the database.
const (
	metaClaimed = "access/claimed" // when the host was found
	metaCode    = "access/code"    // hash of the last code used up: a given one is dead for ever
)

// OpenCode makes the one-time code, or takes the given one (at least 12
// characters), unless the book is claimed already; anew opens one all the same,
// for a lost host. It returns the code to print; "" where none is open.
// Errors: ErrCode for one that is short or was used before, and those of the
// database.
func (a *Access) OpenCode(ctx context.Context, db *store.DB, given string, anew bool) (string, error) {
	if given != "" && len([]rune(given)) < codeLength {
		return "", fmt.Errorf("%w: at least %d characters", ErrCode, codeLength)
	}
	code := given
	if code == "" {
		var err error
		if code, err = a.random(8); err != nil {
			return "", err
		}
		code = code[:codeLength]
	}
	claimed, used := false, false
	err := db.View(ctx, func(tx *store.Tx) error {
		_, claimed = tx.Meta(metaClaimed)
		last, has := tx.Meta(metaCode)
		used = has && last == hexHash(code)
		return nil
	})
	if err != nil {
		return "", fmt.Errorf("access: %w", err)
	}
	if claimed && !anew {
		return "", nil
	}
	if used {
		return "", fmt.Errorf("%w: it was used before, and opens nothing any more", ErrCode)
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	a.code, a.open = sha256.Sum256([]byte(normalCode(code))), true
	return code, nil
}

// random gives n random bytes in base 32, lower case, without padding.
func (a *Access) random(n int) (string, error) {
	b := make([]byte, n)
	if _, err := io.ReadFull(a.rand, b); err != nil {
		return "", fmt.Errorf("access: %w", err)
	}
	return strings.ToLower(base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(b)), nil
}

// normalCode makes a made code forgiving: case and the blanks that a phone puts
// around it do not count.
func normalCode(s string) string { return strings.ToLower(strings.TrimSpace(s)) }

// hexHash is how a used code stands in the database: enough to know it again, of no
// use to whoever reads a backup.
func hexHash(code string) string {
	sum := sha256.Sum256([]byte(normalCode(code)))
	return fmt.Sprintf("%x", sum)
}

// From is who sent something.
type From struct {
	User      int64 // the platform's id; of an anonymous admin or channel that of its chat
	Name      string
	Anonymous bool
	Gone      bool // the platform says that they left the group they joined through
}

// ChatInfo is where something was sent, and what.
type ChatInfo struct {
	Platform   string
	PlatformID int64
	Group      bool
	Title      string
	Text       string
	Thread     int64
	MessageID  int64
	Source     string // unique for the message: names its rows of the outbox
	At, Now    time.Time
	Added      bool // the bot was just added to this group, by From
	Hidden     bool // privacy mode hides plain messages of this group
}

// What is to be done with a message.
type What int

// The three ways.
const (
	Ignore  What = iota // not for the book: leave no trace
	Pass                // for the conversation
	Handled             // answered already
)

// Verdict is what Access made of a message. Say goes to the chat at once and past
// the book: an answer to a stranger must leave no trace.
type Verdict struct {
	What What
	Say  string
}

// late is a message read long after it was sent: the bot was off, or the phone was.
func (c ChatInfo) late() bool { return c.Now.Sub(c.At) > 10*time.Minute }

// Resolve finds the chat's book and the sender in it and handles what decides
// about that: the host's code, links, /admit, comings and goings. Only with Pass
// are Chat and Member set.
func (a *Access) Resolve(ctx context.Context, tx *store.Tx, from From, c ChatInfo) (store.Chat, store.Member, Verdict, error) {
	if c.Group {
		return a.group(tx, from, c)
	}
	if payload, started := startPayload(c.Text); started || looksLikeCode(c.Text) {
		if !started {
			payload = strings.TrimSpace(c.Text)
		}
		if v, done, err := a.key(tx, from, c, payload); done || err != nil {
			return store.Chat{}, store.Member{}, v, err
		}
	}
	return a.private(tx, from, c)
}

// startPayload reads "/start", "/start P" and "/start@bot P".
func startPayload(text string) (payload string, is bool) {
	word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	word, _, _ = strings.Cut(word, "@")
	return strings.TrimSpace(rest), strings.EqualFold(word, "/start")
}

// looksLikeCode is one word of at least the code's length with letters or digits.
func looksLikeCode(text string) bool {
	t := strings.TrimSpace(text)
	return len(t) >= codeLength && len(t) <= 64 && !strings.ContainsAny(t, " \n\t/")
}
