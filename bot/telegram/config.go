package telegram

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"mustbook/bot"
	"mustbook/store"
)

// Conversation is what is done with a message; *bot.Bot is one, and the tests of
// this package have a small one.
type Conversation interface {
	Handle(ctx context.Context, tx *store.Tx, in bot.Incoming) error
}

// Config is what a bot is made of.
type Config struct {
	Token        string // secret
	APIURL       string // server that speaks the Bot API; empty: the platform's own
	Conversation Conversation
	DB           *store.DB
	Access       *bot.Access
	Log          *slog.Logger
	Now          func() time.Time
	Pace         bool          // keep the platform's limits; off in benchmarks
	Webhook      Webhook       // zero: long polling
	Health       string        // address of the health page; empty: none
	Client       *http.Client  // for polls and downloads; nil: one of our own
	Wake         chan struct{} // whoever writes to the outbox outside a message may send here
	Render       Renderer      // makes pictures and documents of the outbox; nil: none are sent
	Quiet        time.Duration // how long nothing must have come before the disk is tidied; 0: 2 s
	Pictured     Pictured      // is told what a photo showed; nil: nobody is
}

// Renderer makes the file that an outbox row asks for when it is sent: its name,
// its bytes and its kind follow from the row's Render text.
type Renderer func(ctx context.Context, out store.Out) (name string, data []byte, err error)

// Pictured is called within the transaction that keeps a photo: code is the text
// of its barcode, format its kind; both are empty where none was read.
type Pictured func(ctx context.Context, tx *store.Tx, p store.Photo, code, format string) error

// Webhook is where the platform posts updates, in place of polling.
type Webhook struct {
	URL    string // public https address
	Listen string // address to listen on
	Secret string // compared with the header of each request; 1–256 of A-Za-z0-9_-
}

// platformURL is the server of the platform itself.
const platformURL = "https://api.telegram.org"

// ErrConfig is wrapped by what is wrong with a Config.
var ErrConfig = errors.New("telegram settings")

// fill checks a Config and puts in what may be left out.
func (c *Config) fill() error {
	switch {
	case strings.TrimSpace(c.Token) == "":
		return errors.Join(ErrConfig, errors.New("no token"))
	case c.Conversation == nil || c.DB == nil || c.Access == nil || c.Now == nil:
		return errors.Join(ErrConfig, errors.New("conversation, database, access and clock are needed"))
	case c.APIURL != "" && !address(c.APIURL, "http", "https"):
		return errors.Join(ErrConfig, errors.New("the API's address must begin with http:// or https://"))
	case c.Webhook.URL != "" && !address(c.Webhook.URL, "https"):
		return errors.Join(ErrConfig, errors.New("the webhook's address must begin with https://"))
	case c.Webhook.URL != "" && (c.Webhook.Listen == "" || !secretOK(c.Webhook.Secret)):
		return errors.Join(ErrConfig, errors.New("a webhook needs an address to listen on and a secret"))
	}
	if c.APIURL == "" {
		c.APIURL = platformURL
	}
	c.APIURL = strings.TrimRight(c.APIURL, "/")
	if c.Log == nil {
		c.Log = slog.New(slog.DiscardHandler)
	}
	if c.Client == nil {
		c.Client = &http.Client{Transport: pollTransport()}
	}
	if c.Quiet == 0 {
		c.Quiet = 2 * time.Second // long enough not to flush the disk between two messages
	}
	if c.Wake == nil {
		c.Wake = make(chan struct{}, 1)
	}
	return nil
}

// address is a whole address of one of these schemes.
func address(s string, schemes ...string) bool {
	u, err := url.Parse(s)
	return err == nil && u.Host != "" && slices.Contains(schemes, u.Scheme)
}

// secretOK holds the platform's rule for secret_token.
func secretOK(s string) bool {
	for _, r := range s {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-') {
			return false
		}
	}
	return len(s) >= 1 && len(s) <= 256
}
