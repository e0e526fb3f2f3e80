package telegram

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
)

// key tells whether an update was here before. Update ids start anew after a
// quiet week, so they are no key; the content is: chat and message, its edit,
// the press. The time stands in front, so that what comes together stands together on
// the disk. origin is the chat id as received, for it can change later.
func (u update) key(raw []byte) (key string, origin, messageID int64) {
	switch {
	case u.Message != nil && u.Edited:
		m := u.Message
		return fmt.Sprintf("e:%d:%d:%d:%s", m.EditDate, m.Chat.ID, m.ID, digest([]byte(m.Text))), m.Chat.ID, m.ID
	case u.Message != nil:
		m := u.Message
		return fmt.Sprintf("m:%d:%d:%d", m.Date, m.Chat.ID, m.ID), m.Chat.ID, m.ID
	case u.Press != nil:
		return "c:" + u.Press.ID, u.Press.Message.Chat.ID, u.Press.Message.ID
	case u.Own != nil:
		return fmt.Sprintf("s:%d:%d:%d:%s", u.Own.Date, u.Own.Chat.ID, u.Own.From.ID, u.Own.New), u.Own.Chat.ID, 0
	}
	return fmt.Sprintf("u:%d:%s", u.ID, digest(raw)), 0, 0
}

// digest is short: it only has to tell apart edits of one message within a second.
func digest(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:8])
}
