package telegram

import (
	"errors"
	"fmt"
	"net/url"
	"regexp"
	"strings"

	lib "github.com/go-telegram/bot"
)

// redact makes an error fit for the log and the book: no address (the token is part
// of every one), no body of an answer, and of a refusal only its code and words that
// are known to quote nothing, for a description may repeat what was sent.
func (b *tg) redact(err error) error {
	if err == nil {
		return nil
	}
	text, refused := refusal(err)
	if !refused {
		var u *url.Error
		if errors.As(err, &u) {
			err = u.Err // the cause without the address
		}
		text = quoted.ReplaceAllString(err.Error(), `"…"`)
		if i := strings.Index(text, "error decode response"); i >= 0 {
			text = "an answer that is not of the Bot API" // the library quotes the whole page
		}
	}
	text = strings.ReplaceAll(text, b.cfg.Token, "***")
	if _, secret, cut := strings.Cut(b.cfg.Token, ":"); cut && secret != "" {
		text = strings.ReplaceAll(text, secret, "***")
	}
	if secret := b.cfg.Webhook.Secret; secret != "" {
		text = strings.ReplaceAll(text, secret, "***")
	}
	if r := []rune(text); len(r) > 200 {
		text = string(r[:200]) + "…"
	}
	return errors.New(text)
}

// quoted is what an error cites: of an answer, as a rule.
var quoted = regexp.MustCompile("\"(?:[^\"\\\\]|\\\\.)*\"|`[^`]*`")

// refusal tells an error that the platform itself gave, by its code.
func refusal(err error) (text string, is bool) {
	var a *apiError
	var many *lib.TooManyRequestsError
	var moved *lib.MigrateError
	switch {
	case errors.As(err, &a):
		return strings.TrimSpace(fmt.Sprintf("%s: %d %s", a.Method, a.Code, words(a.Description))), true
	case errors.As(err, &many):
		return fmt.Sprintf("429 retry after %d s", many.RetryAfter), true
	case errors.As(err, &moved):
		return "400 the group has a new id", true
	}
	for code, sentinel := range map[int]error{400: lib.ErrorBadRequest, 401: lib.ErrorUnauthorized, 403: lib.ErrorForbidden, 404: lib.ErrorNotFound, 409: lib.ErrorConflict} {
		if errors.Is(err, sentinel) {
			return strings.TrimSpace(fmt.Sprintf("%d %s", code, words(err.Error()))), true
		}
	}
	if m := otherRefusal.FindStringSubmatch(err.Error()); m != nil {
		return m[1] + ": " + m[2], true
	}
	return "", false
}

// otherRefusal is how the library tells of a code that it has no error for.
var otherRefusal = regexp.MustCompile(`error response from telegram for method (\w+), (\d+)`)

// sentences are descriptions that quote nothing of what was sent: the platform's,
// as its open server (tdlib/telegram-bot-api, tdlib/td) has them, and ours.
var sentences = []string{
	"message text is empty", "text must be non-empty", "message is too long", "message caption is too long", "text is too long",
	"chat not found", "message to be replied not found", "message to edit not found", "message to react not found", "message thread not found",
	"message can't be edited", "message is not modified", "BUTTON_DATA_INVALID", "reply markup is too long", "query is too old",
	"REACTION_INVALID", "TOPIC_CLOSED", "can't parse entities", "group chat was upgraded to a supergroup chat", "wrong file_id",
	"file is too big", "wrong remote file identifier", "not enough rights", "need administrator rights", "PHOTO_INVALID_DIMENSIONS",
	"bot was blocked by the user", "user is deactivated", "bot can't initiate conversation", "bot was kicked", "bot is not a member",
	"Unauthorized", "method not found", "Too Many Requests", "terminated by other getUpdates request", "webhook is active",
	"Internal Server Error", "Bad Gateway", "bad webhook", "an answer that is not of the Bot API", "larger than 20 MB", "of the file",
}

// words is the known part of a description, empty where none is.
func words(description string) string {
	for _, s := range sentences {
		if strings.Contains(description, s) {
			return s
		}
	}
	return ""
}
