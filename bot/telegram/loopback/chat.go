package loopback

// visible finds a chat that the bot may ask about.
func (s *Server) visible(p params) (*Chat, *reply) {
	c := s.world.chats[p.int("chat_id")]
	if c == nil {
		return refused(bad("chat not found"))
	}
	if c.movedTo != 0 {
		c = s.world.chats[c.movedTo]
	}
	if c.Type != "private" && !s.botIn(c) {
		return refused(forbidden("bot is not a member of the " + c.kindWord() + " chat"))
	}
	return c, nil
}

// getChat gives what the bot may know of a chat.
func (s *Server) getChat(p params) reply {
	c, r := s.visible(p)
	if r != nil {
		return *r
	}
	return ok(c.chatJSON())
}

// getChatMember gives the status: creator, administrator, member, left, kicked.
func (s *Server) getChatMember(p params) reply {
	c, r := s.visible(p)
	if r != nil {
		return *r
	}
	id := p.int("user_id")
	if id != BotID && s.world.users[id] == nil {
		return bad("invalid user_id specified") // recalled
	}
	status := c.status[id]
	if status == "" {
		status = "left"
	}
	return ok(map[string]any{"user": s.userJSON(id), "status": status})
}

// leaveChat takes the bot out by its own wish.
func (s *Server) leaveChat(p params) reply {
	c, r := s.visible(p)
	if r != nil {
		return *r
	}
	c.status[BotID] = "left"
	return ok(true)
}
