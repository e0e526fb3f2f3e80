package telegram

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"runtime/debug"
	"strings"
	"time"
	"unicode/utf8"

	lib "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"mustbook/store"
)

// letter is a row of the outbox made ready to go.
type letter struct {
	out     store.Out
	chatID  int64
	group   bool
	edits   int64     // platform id of the message to edit; 0: a new one
	carries []carried // answers of unknown fate that this one begins with
}

// carried is an answer whose arrival is not known.
type carried struct {
	id   int64
	line string
}

// The platform's limits, in code points.
const (
	maxText    = 4096
	maxCaption = 1024
)

// sendSafely is send for a row at which the program stumbles, which is drawing it as
// a rule: that costs the row, not the program.
func (b *tg) sendSafely(ctx context.Context, l letter) (o outcome) {
	defer func() {
		if p := recover(); p != nil {
			o = outcome{fate: fateDead, err: fmt.Errorf("%w %d: %w", errRow, l.out.ID, stumble(p))}
			b.cfg.Log.Error("an answer made the program stumble", "outbox", l.out.ID, "stack", string(debug.Stack()))
		}
	}()
	return b.send(ctx, l)
}

// send is one row as a call of the library. It is made once; what its failure
// means is judged elsewhere.
func (b *tg) send(ctx context.Context, l letter) outcome {
	ctx, a := watch(ctx)
	passed("before send")
	id, err := b.dispatch(ctx, l)
	passed("after send")
	// Our own markup should never be refused; if it is, a plain text is better than
	// none, and the log says which row it was.
	o := judge(err, a)
	if o.fate == fatePlain {
		plain := l
		plain.out.HTML, plain.out.Text = false, strip(l.out.Text)
		ctx, a = watch(ctx)
		b.cfg.Log.Error("a text was not understood as HTML and goes as plain text", "outbox", l.out.ID)
		id, err = b.dispatch(ctx, plain)
		if o = judge(err, a); o.fate == fatePlain {
			o.fate = fateDead
		}
	}
	o.id = id
	return o
}

// dispatch picks the library's call for a kind of row and gives the platform's id
// of the message that now stands.
func (b *tg) dispatch(ctx context.Context, l letter) (int64, error) {
	switch l.out.Kind {
	case "reaction":
		p := &lib.SetMessageReactionParams{
			ChatID: l.chatID, MessageID: int(l.out.ReplyTo),
			Reaction: []models.ReactionType{{Type: models.ReactionTypeTypeEmoji, ReactionTypeEmoji: &models.ReactionTypeEmoji{Type: models.ReactionTypeTypeEmoji, Emoji: l.out.Reaction}}},
		}
		inJSON(ctx, p)
		_, err := b.lib.SetMessageReaction(ctx, p)
		return 0, err
	case "ack":
		_, err := b.lib.AnswerCallbackQuery(ctx, &lib.AnswerCallbackQueryParams{
			CallbackQueryID: strings.TrimPrefix(l.out.Source, ackSource("")), Text: cut(l.out.Text, 200),
		})
		return 0, err
	case "photo", "document":
		return b.sendFile(ctx, l)
	}
	if l.edits != 0 {
		return l.edits, b.edit(ctx, l)
	}
	return b.sendText(ctx, l)
}

// sendText sends a new message. The original may be deleted by now, which must not
// make the answer fail; link previews would push the answer off a small screen.
func (b *tg) sendText(ctx context.Context, l letter) (int64, error) {
	p := &lib.SendMessageParams{
		ChatID: l.chatID, MessageThreadID: int(l.out.Thread), Text: cut(l.text(), maxText),
		LinkPreviewOptions: &models.LinkPreviewOptions{IsDisabled: lib.True()},
		ReplyParameters:    l.replyTo(), ReplyMarkup: l.keyboard(),
	}
	if l.out.HTML {
		p.ParseMode = models.ParseModeHTML
	}
	inJSON(ctx, p)
	m, err := b.lib.SendMessage(ctx, p)
	if err != nil {
		return 0, err
	}
	return int64(m.ID), nil
}

// edit changes an earlier answer in place. Its keyboard is given anew, for an edit
// without one takes it away.
func (b *tg) edit(ctx context.Context, l letter) error {
	p := &lib.EditMessageTextParams{ChatID: l.chatID, MessageID: int(l.edits), Text: cut(l.text(), maxText), ReplyMarkup: l.keyboard(),
		LinkPreviewOptions: &models.LinkPreviewOptions{IsDisabled: lib.True()}}
	if l.out.HTML {
		p.ParseMode = models.ParseModeHTML
	}
	inJSON(ctx, p)
	_, err := b.lib.EditMessageText(ctx, p)
	return err
}

// sendFile draws or writes the file now, from the request that the row keeps: a
// retry gets a fresh reader, and a late one the newest state.
func (b *tg) sendFile(ctx context.Context, l letter) (int64, error) {
	if b.cfg.Render == nil {
		return 0, fmt.Errorf("%w %d: nothing renders it", errRow, l.out.ID)
	}
	name, data, err := b.cfg.Render(ctx, l.out)
	if err != nil {
		return 0, fmt.Errorf("%w %d: %w", errRow, l.out.ID, err)
	}
	file := &models.InputFileUpload{Filename: name, Data: bytes.NewReader(data)}
	mode := models.ParseMode("")
	if l.out.HTML {
		mode = models.ParseModeHTML
	}
	caption := cut(l.text(), maxCaption)
	var m *models.Message
	if l.out.Kind == "photo" {
		m, err = b.lib.SendPhoto(ctx, &lib.SendPhotoParams{ChatID: l.chatID, MessageThreadID: int(l.out.Thread), Photo: file, Caption: caption, ParseMode: mode, ReplyParameters: l.replyTo(), ReplyMarkup: l.keyboard()})
	} else {
		m, err = b.lib.SendDocument(ctx, &lib.SendDocumentParams{ChatID: l.chatID, MessageThreadID: int(l.out.Thread), Document: file, Caption: caption, ParseMode: mode, ReplyParameters: l.replyTo(), ReplyMarkup: l.keyboard()})
	}
	if err != nil {
		return 0, err
	}
	return int64(m.ID), nil
}

// text is what is said, behind the first lines of answers of unknown fate.
func (l letter) text() string {
	var lines []string
	for _, c := range l.carries {
		line := c.line
		if l.out.HTML {
			line = html.EscapeString(line)
		}
		lines = append(lines, line)
	}
	return strings.Join(append(lines, l.out.Text), "\n")
}

// replyTo points at the message answered, as a wish and not a condition.
func (l letter) replyTo() *models.ReplyParameters {
	if l.out.ReplyTo == 0 {
		return nil
	}
	return &models.ReplyParameters{MessageID: int(l.out.ReplyTo), AllowSendingWithoutReply: true}
}

// rowWidth is how many characters of labels fit side by side on a phone.
const rowWidth = 30

// keyboard lays the buttons out in rows. It is an untyped nil where there are
// none: the library would send a typed one as "null", which is refused.
func (l letter) keyboard() models.ReplyMarkup {
	if len(l.out.Buttons) == 0 {
		return nil
	}
	var rows [][]models.InlineKeyboardButton
	width := rowWidth + 1
	for _, b := range l.out.Buttons {
		w := utf8.RuneCountInString(b.Label) + 2
		if width+w > rowWidth {
			rows, width = append(rows, nil), 0
		}
		width += w
		last := len(rows) - 1
		rows[last] = append(rows[last], models.InlineKeyboardButton{Text: b.Label, CallbackData: b.Key})
	}
	return &models.InlineKeyboardMarkup{InlineKeyboard: rows}
}

// cut bounds a text; what is said is far shorter, so this shows only when
// something is wrong.
func cut(s string, n int) string {
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	return string([]rune(s)[:n-1]) + "…"
}

// strip takes the tags out of our own HTML.
func strip(s string) string {
	var out strings.Builder
	for s != "" {
		i := strings.IndexByte(s, '<')
		if i < 0 {
			out.WriteString(s)
			break
		}
		out.WriteString(s[:i])
		end := strings.IndexByte(s[i:], '>')
		if end < 0 {
			out.WriteString(s[i:])
			break
		}
		s = s[i+end+1:]
	}
	return html.UnescapeString(out.String())
}

// sendTime bounds one call, the platform's own delays included.
const sendTime = 45 * time.Second
