package bot

import (
	"fmt"
	"strconv"
	"strings"

	"mustbook/bot/say"
	"mustbook/store"
)

// Command answers the typed words about who may do what: invite, members, new
// household, remove NAME, make NAME keeper, leave. done is false for any other
// text.
func (a *Access) Command(tx *store.Tx, in Incoming) (done bool, err error) {
	words := strings.Fields(strings.ToLower(strings.TrimPrefix(strings.TrimSpace(in.Text), "/")))
	typed := strings.Fields(in.Text)
	switch {
	case len(words) == 1 && words[0] == "invite":
		return true, a.invite(tx, in)
	case len(words) == 1 && words[0] == "members":
		return true, a.members(tx, in)
	case len(words) == 2 && words[0] == "new" && words[1] == "household":
		return true, a.household(tx, in)
	case len(words) == 1 && words[0] == "leave":
		return true, a.askLeave(tx, in)
	case len(words) >= 3 && words[0] == "make" && words[len(words)-1] == "keeper":
		return true, a.askKeeper(tx, in, strings.Join(typed[1:len(typed)-1], " "))
	case len(words) >= 2 && words[0] == "remove":
		return a.askRemove(tx, in, strings.Join(typed[1:], " "))
	}
	return false, nil
}

// keeperInPrivate refuses whoever may not: "" where it is allowed.
func keeperInPrivate(in Incoming) string {
	switch {
	case in.Anonymous || !in.Member.Keeper:
		return say.KeeperOnly()
	case in.Chat.Kind != "private":
		return say.InPrivate()
	}
	return ""
}

// invite asks before a link into this book is made, twice as all that opens the book
// or takes something from it.
func (a *Access) invite(tx *store.Tx, in Incoming) error {
	if no := keeperInPrivate(in); no != "" {
		return a.answer(tx, in, no, nil)
	}
	return a.ask(tx, in, say.AskInvite(), say.LabelLink, actInvite, in.Member.ID)
}

// household asks before a link to a new book is made. Only the host, whose machine
// it is, may put other households on it.
func (a *Access) household(tx *store.Tx, in Incoming) error {
	if no := hostInPrivate(in); no != "" {
		return a.answer(tx, in, no, nil)
	}
	return a.ask(tx, in, say.AskHousehold(), say.LabelLink, actHouse, in.Member.ID)
}

// hostInPrivate refuses whoever is not the host: "" where it is allowed.
func hostInPrivate(in Incoming) string {
	switch {
	case in.Anonymous || !in.Member.Host:
		return say.HostOnly()
	case in.Chat.Kind != "private":
		return say.InPrivate()
	}
	return ""
}

// ask puts a question about somebody, with a yes and a no under it.
func (a *Access) ask(tx *store.Tx, in Incoming, text, yes, what string, member int64) error {
	return a.answer(tx, in, text, []store.Button{button(yes, what, member, in.Now), button(say.LabelNo, actNothing, member, in.Now)})
}

// giveLink makes a link and hands it to whoever was asked twice; the same button
// makes no second one.
func (a *Access) giveLink(tx *store.Tx, in Incoming, kind string, text func(string) string) error {
	link, err := a.newLink(tx, kind, in.Chat.Book, in.Member.ID, in.Now)
	if err != nil {
		return err
	}
	in.Callback = "link:" + in.Button
	return a.answer(tx, in, text(link), nil)
}

// members lists the people of the book and its groups.
func (a *Access) members(tx *store.Tx, in Incoming) error {
	ms, err := tx.Members(in.Chat.Book)
	if err != nil {
		return fmt.Errorf("members: %w", err)
	}
	var lines []string
	for _, m := range ms {
		if m.Left.IsZero() {
			lines = append(lines, say.MemberLine(m.ID, m.Name, m.Keeper, m.Host))
		}
	}
	chats, err := tx.Chats(in.Chat.Book)
	if err != nil {
		return fmt.Errorf("members: %w", err)
	}
	for _, c := range chats {
		if c.Kind == "group" && c.Admitted {
			lines = append(lines, say.ChatLine(c.Title, c.PrivacyHidden))
		}
	}
	return a.answer(tx, in, strings.Join(lines, "\n"), nil)
}

// byName finds a present member by name or by the number of the list. The text is
// what to say where nobody, or more than one, fits.
func byName(tx *store.Tx, book int64, name string) (store.Member, string, error) {
	ms, err := tx.Members(book)
	if err != nil {
		return store.Member{}, "", fmt.Errorf("members: %w", err)
	}
	n, _ := strconv.ParseInt(strings.TrimPrefix(name, "#"), 10, 64)
	var found []store.Member
	for _, m := range ms {
		if m.Left.IsZero() && (strings.EqualFold(m.Name, name) || m.ID == n) {
			found = append(found, m)
		}
	}
	switch len(found) {
	case 0:
		return store.Member{}, say.NoSuchMember(name), nil
	case 1:
		return found[0], "", nil
	}
	return store.Member{}, say.TwoSuchMembers(name), nil
}

// askRemove asks before somebody is taken out. "remove" followed by what is no
// member's name is not ours: it may be about a batch.
func (a *Access) askRemove(tx *store.Tx, in Incoming, name string) (bool, error) {
	m, no, err := byName(tx, in.Chat.Book, name)
	if err != nil {
		return true, err
	}
	if m.ID == 0 && no == say.NoSuchMember(name) {
		return false, nil
	}
	if refusal := keeperInPrivate(in); refusal != "" {
		no = refusal
	} else if m.Keeper {
		no = say.KeeperCannotLeave()
	}
	if no != "" {
		return true, a.answer(tx, in, no, nil)
	}
	return true, a.ask(tx, in, say.AskRemove(m.Name), say.LabelRemove, actRemove, m.ID)
}

// askKeeper begins to hand the book on: two questions to the keeper, then one to
// whoever is to keep it. A book is never left without a keeper in between.
func (a *Access) askKeeper(tx *store.Tx, in Incoming, name string) error {
	m, no, err := byName(tx, in.Chat.Book, name)
	if err != nil {
		return err
	}
	if refusal := keeperInPrivate(in); refusal != "" {
		no = refusal
	} else if m.ID == in.Member.ID && no == "" {
		no = say.KeeperAlready()
	}
	if no != "" {
		return a.answer(tx, in, no, nil)
	}
	return a.ask(tx, in, say.AskKeeper(m.Name), say.LabelHandOn, actHandOn, m.ID)
}

// askLeave asks a member who wants out. Someone who only sits in the group leaves
// by leaving the group.
func (a *Access) askLeave(tx *store.Tx, in Incoming) error {
	switch {
	case in.Chat.Kind != "private":
		return a.answer(tx, in, say.InPrivate(), nil)
	case in.Member.Keeper:
		return a.answer(tx, in, say.KeeperCannotLeave(), nil)
	}
	return a.ask(tx, in, say.AskLeave(), say.LabelLeave, actLeave, in.Member.ID)
}
