package loopback

// own finds a message of the bot's to be edited.
func (s *Server) own(p params) (*Message, *Chat, *reply) {
	c, r := s.writable(p)
	if r != nil {
		return nil, nil, r
	}
	m := c.find(int(p.int("message_id")))
	if m == nil {
		r := bad("message to edit not found")
		return nil, nil, &r
	}
	if m.From != BotID {
		r := bad("message can't be edited")
		return nil, nil, &r
	}
	return m, c, nil
}

const sameContent = "message is not modified: specified new message content and reply markup are exactly the same as a current content and reply markup of the message"

// change edits text and keyboard; without reply_markup the keyboard goes.
func (s *Server) change(p params, key string, limit int, empty, long string) reply {
	m, c, r := s.own(p)
	if r != nil {
		return *r
	}
	text, r := p.text(key, limit, empty, long)
	if r != nil {
		return *r
	}
	if (m.Kind == "text") != (key == "text") {
		return bad("there is no " + key + " in the message to edit")
	}
	buttons, r := p.keyboard()
	if r != nil {
		return *r
	}
	if text == m.Text && sameButtons(buttons, m.Buttons) {
		return bad(sameContent)
	}
	m.Edits = append(m.Edits, m.Text)
	m.Text, m.Markup, m.Buttons, m.EditDate = text, p.str(key), buttons, s.now().Unix()
	s.changed()
	return ok(s.messageJSON(c, m, false))
}

// editMessageText has the bounds of sendMessage.
func (s *Server) editMessageText(p params) reply {
	return s.change(p, "text", 4096, "message text is empty", "message is too long")
}

// editMessageCaption is for pictures and documents.
func (s *Server) editMessageCaption(p params) reply {
	return s.change(p, "caption", 1024, "", "message caption is too long")
}

// editMessageReplyMarkup changes the keyboard alone.
func (s *Server) editMessageReplyMarkup(p params) reply {
	m, c, r := s.own(p)
	if r != nil {
		return *r
	}
	buttons, r := p.keyboard()
	if r != nil {
		return *r
	}
	if sameButtons(buttons, m.Buttons) {
		return bad(sameContent)
	}
	m.Buttons = buttons
	s.changed()
	return ok(s.messageJSON(c, m, false))
}

// sameButtons compares two keyboards.
func sameButtons(a, b [][]Button) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if len(a[i]) != len(b[i]) {
			return false
		}
		for j := range a[i] {
			if a[i][j] != b[i][j] {
				return false
			}
		}
	}
	return true
}

// deleteMessage does not look at the 48 hours that the platform allows.
func (s *Server) deleteMessage(p params) reply {
	c, r := s.writable(p)
	if r != nil {
		return *r
	}
	m := c.find(int(p.int("message_id")))
	if m == nil {
		return bad("message to delete not found")
	}
	m.Deleted = true
	return ok(true)
}

// answerCallbackQuery ends a press; its text has at most 200 characters.
func (s *Server) answerCallbackQuery(p params) reply {
	id := p.str("callback_query_id")
	if !s.world.callbacks[id] {
		return bad("query is too old and response timeout expired or query ID is invalid")
	}
	if len([]rune(p.str("text"))) > 200 {
		return bad("MESSAGE_TOO_LONG") // recalled
	}
	s.world.callbacks[id] = false
	return ok(true)
}
