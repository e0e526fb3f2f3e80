package telegram

import (
	"errors"
	"net/url"
	"strings"
)

// redact makes an error fit for the log: no address (the token is part of every
// one), and no body of an answer, which may hold names and texts.
func (b *tg) redact(err error) error {
	if err == nil {
		return nil
	}
	var u *url.Error
	if errors.As(err, &u) {
		err = u.Err // the cause without the address
	}
	text := strings.ReplaceAll(err.Error(), b.cfg.Token, "***")
	if secret := b.cfg.Webhook.Secret; secret != "" {
		text = strings.ReplaceAll(text, secret, "***")
	}
	if i := strings.Index(text, "error decode response body"); i >= 0 {
		text = "an answer that is not of the Bot API" // the library quotes the whole page
	}
	if r := []rune(text); len(r) > 200 {
		text = string(r[:200]) + "…"
	}
	return errors.New(text)
}
