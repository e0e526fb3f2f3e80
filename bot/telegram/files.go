package telegram

import (
	"context"
	"time"

	"mustbook/bot"
	"mustbook/store"
)

// fileTime bounds the download of a file: other messages wait meanwhile.
const fileTime = 20 * time.Second

// sentFile fetches, before the transaction, a file that a keeper sent in private to be
// taken in. Nobody else's is fetched: a stranger must not make us download. nil where
// there is none or it cannot be had; the sender is then asked to send it anew.
func (b *tg) sentFile(ctx context.Context, u update) []byte {
	m := u.Message
	if m == nil || u.Edited || m.Doc == nil || m.Sender != nil || m.Chat.group() || m.Doc.Size > bot.MaxFile {
		return nil
	}
	keeps := false
	err := b.cfg.DB.View(ctx, func(tx *store.Tx) error {
		c, err := tx.ChatByPlatform(platform, m.Chat.ID)
		if err != nil {
			return err
		}
		who, err := tx.Member(c.Book, c.Member)
		keeps = who.Keeper && who.Left.IsZero() && who.PlatformUser == m.From.ID
		return err
	})
	if err != nil || !keeps {
		return nil
	}
	ctx, cancel := context.WithTimeout(ctx, fileTime)
	defer cancel()
	data, err := b.download(ctx, m.Doc.ID)
	if err != nil {
		b.cfg.Log.Warn("a file could not be had", "error", b.redact(err))
		return nil
	}
	return data
}
