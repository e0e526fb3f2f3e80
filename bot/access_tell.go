package bot

import (
	"errors"
	"fmt"

	"mustbook/store"
)

// sourceOf names the rows of the outbox that a message makes.
func sourceOf(in Incoming) string {
	if in.Callback != "" {
		return "press:" + in.Callback
	}
	return fmt.Sprintf("access:%d:%d", in.OriginChat, in.MessageID)
}

// answer replies in the chat of the message.
func (a *Access) answer(tx *store.Tx, in Incoming, text string, buttons []store.Button) error {
	replyTo := in.MessageID
	if in.Chat.Kind == "private" || in.Callback != "" {
		replyTo = 0
	}
	_, _, err := tx.Enqueue(store.Out{
		Book: in.Chat.Book, Chat: in.Chat.ID, Source: sourceOf(in), Kind: "reply", Text: text,
		Buttons: buttons, ReplyTo: replyTo, Thread: in.Thread, Created: in.Now,
	})
	if err != nil {
		return fmt.Errorf("answer: %w", err)
	}
	return nil
}

// tell answers a message that the conversation does not get to see.
func (a *Access) tell(tx *store.Tx, chat store.Chat, c ChatInfo, text string, buttons []store.Button) error {
	_, _, err := tx.Enqueue(store.Out{
		Book: chat.Book, Chat: chat.ID, Source: c.Source, Kind: "reply", Text: text,
		Buttons: buttons, Thread: c.Thread, Created: c.Now,
	})
	if err != nil {
		return fmt.Errorf("tell: %w", err)
	}
	return nil
}

// privateOf is the private chat of a member, wherever it is.
func privateOf(tx *store.Tx, m store.Member) (store.Chat, error) {
	chats, err := tx.Chats(m.Book)
	if err != nil {
		return store.Chat{}, fmt.Errorf("chats: %w", err)
	}
	for _, c := range chats {
		if c.Kind == "private" && c.Member == m.ID && c.Admitted {
			return c, nil
		}
	}
	return store.Chat{}, store.ErrNotFound
}

// tellMember writes to a member's private chat; who has none is not told.
func (a *Access) tellMember(tx *store.Tx, m store.Member, c ChatInfo, what, text string, buttons []store.Button) error {
	chat, err := privateOf(tx, m)
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	_, _, err = tx.Enqueue(store.Out{
		Book: m.Book, Chat: chat.ID, Source: c.Source + ":" + what, Kind: "reply", Text: text, Buttons: buttons, Created: c.Now,
	})
	if err != nil {
		return fmt.Errorf("tell: %w", err)
	}
	return nil
}
