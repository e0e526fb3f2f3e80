package telegram

import (
	"encoding/json"
	"errors"
	"path"
	"strings"
	"sync"
	"time"
)

// Updates are decoded into what the bot reads of them and nothing else, each
// optional part on its own: a part of a kind that we do not know costs that part,
// not the message, and never the batch.

type chat struct {
	ID    int64  `json:"id"`
	Type  string `json:"type"`
	Title string `json:"title"`
}

// group is a chat of several people; a channel is none, the bot is not asked there.
func (c chat) group() bool { return c.Type == "group" || c.Type == "supergroup" }

type user struct {
	ID    int64  `json:"id"`
	IsBot bool   `json:"is_bot"`
	First string `json:"first_name"`
	Last  string `json:"last_name"`
}

// name is what the person is called on the platform.
func (u user) name() string {
	if u.Last != "" {
		return u.First + " " + u.Last
	}
	return u.First
}

// replied is the message that another one answers.
type replied struct {
	ID      int64  `json:"message_id"`
	Text    string `json:"text"`
	Caption string `json:"caption"`
	From    user   `json:"from"`
}

// message holds a message or an edited one. Kind is false for parts that came
// but could not be read.
type message struct {
	ID, Date, EditDate int64
	Chat               chat
	From               user
	Sender             *chat // an anonymous admin or a channel
	Text               string
	Reply              *replied
	Thread             int64
	Title              string // of the topic, where it is told
	FileID, FileUnique string // of the largest size of a photo, or an image document
	Doc                *document
	Album              string
	Voice              bool
	Forwarded          bool
	MovedTo, MovedFrom int64
	Left               *user
	Joined             []user
}

// document is a file of a kind that may be taken into the book.
type document struct {
	ID   string `json:"file_id"`
	Name string `json:"file_name"`
	Mime string `json:"mime_type"`
	Size int64  `json:"file_size"`
}

// taken reports a table or an export. Systems disagree on what a table is called, so
// the name counts too.
func (d document) taken() bool {
	switch d.Mime {
	case "text/csv", "text/comma-separated-values", "application/csv", "application/json":
		return true
	}
	ext := strings.ToLower(path.Ext(d.Name))
	return ext == ".csv" || ext == ".json"
}

type press struct {
	ID      string
	From    user
	Data    string
	Message message
}

type ownStatus struct {
	Chat     chat
	From     user
	Date     int64
	Old, New string
}

// update has one of its parts set; Bare is one of a kind that is not for us.
type update struct {
	ID      int64
	Message *message
	Edited  bool
	Press   *press
	Own     *ownStatus
}

// parts is an object whose values are decoded one by one.
type parts map[string]json.RawMessage

// get decodes one value; false where it is missing or of a shape we do not know.
func (p parts) get(key string, dst any) bool {
	raw, has := p[key]
	return has && string(raw) != "null" && json.Unmarshal(raw, dst) == nil
}

// has says whether a part came at all, readable or not.
func (p parts) has(key string) bool { raw, has := p[key]; return has && string(raw) != "null" }

// errUndecodable is an update of a kind that we asked for without what makes it
// one: a message without chat or id.
var errUndecodable = errors.New("undecodable update")

// readUpdate decodes one update. An update of another kind has no part set.
func readUpdate(raw []byte) (update, error) {
	var top parts
	if json.Unmarshal(raw, &top) != nil {
		return update{}, errUndecodable
	}
	var u update
	if !top.get("update_id", &u.ID) {
		return u, errUndecodable
	}
	var err error
	for _, kind := range []string{"message", "edited_message"} {
		if top.has(kind) {
			u.Edited = kind == "edited_message"
			u.Message, err = readMessage(top[kind])
			return u, err
		}
	}
	switch {
	case top.has("callback_query"):
		u.Press, err = readPress(top["callback_query"])
	case top.has("my_chat_member"):
		u.Own, err = readOwn(top["my_chat_member"])
	}
	return u, err
}

// lately has updates that were decoded for the inbox, until the worker takes them.
// What is missing is decoded again, so it may forget at any time.
type lately struct {
	mu   sync.Mutex
	read map[string]update // by key
}

// latelyHolds is a few polls.
const latelyHolds = 1000

// put keeps an update. The inbox keeps the first of a key, and so does this.
func (l *lately) put(key string, u update) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if _, has := l.read[key]; has {
		return
	}
	if l.read == nil || len(l.read) >= latelyHolds { // some came twice and are never taken
		l.read = map[string]update{}
	}
	l.read[key] = u
}

func (l *lately) take(key string) (update, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	u, has := l.read[key]
	delete(l.read, key)
	return u, has
}

// readMessage decodes a message. Without chat and id there is nowhere to answer and
// no key; everything else may be missing.
func readMessage(raw json.RawMessage) (*message, error) {
	var p parts
	if json.Unmarshal(raw, &p) != nil {
		return nil, errUndecodable
	}
	m := &message{}
	if !p.get("message_id", &m.ID) || !p.get("chat", &m.Chat) || m.ID == 0 || m.Chat.ID == 0 {
		return nil, errUndecodable
	}
	p.get("date", &m.Date)
	p.get("edit_date", &m.EditDate)
	p.get("from", &m.From)
	p.get("text", &m.Text)
	if m.Text == "" {
		p.get("caption", &m.Text)
	}
	m.readPlace(p)
	m.readFiles(p)
	m.readService(p)
	return m, nil
}

// readPlace reads who speaks for whom, in which topic, in answer to what.
func (m *message) readPlace(p parts) {
	var sender chat
	if p.get("sender_chat", &sender) {
		m.Sender = &sender
	}
	var topic bool
	if p.get("is_topic_message", &topic) && topic {
		p.get("message_thread_id", &m.Thread)
	}
	var inner parts
	if p.get("reply_to_message", &inner) {
		r := &replied{}
		var made struct {
			Name string `json:"name"`
		}
		// Whatever is said in a topic answers the message that opened it; that is no reply.
		if inner.get("forum_topic_created", &made) {
			m.Title = made.Name
		} else if inner.get("message_id", &r.ID) {
			inner.get("text", &r.Text)
			inner.get("caption", &r.Caption)
			inner.get("from", &r.From)
			m.Reply = r
		}
	}
	m.Forwarded = p.has("forward_origin") || p.has("forward_date")
}

// readFiles reads what can be looked at (the largest size of a photo comes last)
// and notes what cannot be.
func (m *message) readFiles(p parts) {
	var sizes []struct {
		ID     string `json:"file_id"`
		Unique string `json:"file_unique_id"`
	}
	if p.get("photo", &sizes) && len(sizes) > 0 {
		last := sizes[len(sizes)-1]
		m.FileID, m.FileUnique = last.ID, last.Unique
	}
	var doc struct {
		ID     string `json:"file_id"`
		Unique string `json:"file_unique_id"`
		Mime   string `json:"mime_type"`
	}
	if m.FileID == "" && p.get("document", &doc) && strings.HasPrefix(doc.Mime, "image/") {
		m.FileID, m.FileUnique = doc.ID, doc.Unique
	}
	var file document
	if p.get("document", &file) && file.taken() {
		m.Doc = &file
	}
	p.get("media_group_id", &m.Album)
	m.Voice = p.has("voice") || p.has("video_note") || p.has("audio")
}

// readService reads what a message says about its chat.
func (m *message) readService(p parts) {
	p.get("migrate_to_chat_id", &m.MovedTo)
	p.get("migrate_from_chat_id", &m.MovedFrom)
	var left user
	if p.get("left_chat_member", &left) {
		m.Left = &left
	}
	p.get("new_chat_members", &m.Joined)
}

// readPress decodes a press. The message that carried the button may be out of the
// bot's reach; then chat and id are all that is known of it.
func readPress(raw json.RawMessage) (*press, error) {
	var p parts
	if json.Unmarshal(raw, &p) != nil {
		return nil, errUndecodable
	}
	c := &press{}
	if !p.get("id", &c.ID) || !p.get("from", &c.From) {
		return nil, errUndecodable
	}
	p.get("data", &c.Data)
	if m, err := readMessage(p["message"]); err == nil {
		c.Message = *m
	}
	return c, nil
}

// readOwn decodes a change of the bot's own standing in a chat.
func readOwn(raw json.RawMessage) (*ownStatus, error) {
	var p parts
	if json.Unmarshal(raw, &p) != nil {
		return nil, errUndecodable
	}
	o := &ownStatus{}
	if !p.get("chat", &o.Chat) || o.Chat.ID == 0 {
		return nil, errUndecodable
	}
	p.get("from", &o.From)
	p.get("date", &o.Date)
	for key, dst := range map[string]*string{"old_chat_member": &o.Old, "new_chat_member": &o.New} {
		var member parts
		if p.get(key, &member) {
			member.get("status", dst)
		}
	}
	return o, nil
}

// sent is the instant of a unix time.
func sent(unix int64) time.Time { return time.Unix(unix, 0).UTC() }
