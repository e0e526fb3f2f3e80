package say

import (
	"strconv"
	"strings"
)

// Texts of who may do what. They go out as plain text; names in them are as
// people gave them, cut to NameLimit.

// NameLimit is the most characters of a name that are shown in a line.
const NameLimit = 20

// Name is a person's or chat's name fit for a line: cut, and without characters
// that hide others or turn the line round.
func Name(name string) string {
	if name = Clip(name, NameLimit); name == "" {
		return "somebody"
	}
	return name
}

// whole breaks the lines that a long name makes too wide.
func whole(text string) string {
	var out []string
	for _, l := range strings.Split(text, "\n") {
		out = append(out, Wrap(l)...)
	}
	return strings.Join(out, "\n")
}

// Unclaimed answers a start before anybody has sent the code.
func Unclaimed() string {
	return "This book has no keeper yet.\nSend me the code that the program\nprinted where it was started."
}

// Claimed greets the host.
func Claimed(batches int) string {
	if batches == 0 {
		return "You keep this book now.\nBegin: new damson 23 l\nThen type what you read: sg 1.086 at 24c\nOthers: type invite, or add me to a group"
	}
	return "You keep this book now.\n" + count(batches, "batch is", "batches are") + " in it already.\nOthers: type invite, or add me to a group"
}

// NewHost tells the host of before that a new code was used.
func NewHost(name string) string {
	return whole(Name(name) + " is the host now: a new\ncode was made where I run and used.\nYou stay a member of your book.")
}

// Stranger is the one polite line a day.
func Stranger() string {
	return "I keep a household's wine book. Ask\nwhoever keeps it for a link to join."
}

// StrangerGroup is the same in a group that is not admitted.
func StrangerGroup() string {
	return "I keep a household's wine book. Its\nkeeper can let this group in: /admit"
}

// Joined greets a new member in private.
func Joined(keeper string) string {
	return whole("You are in " + Name(keeper) + "'s book.\nType what you read: sg 1.048 at 21c\nor what you did: racked, pitched")
}

// NewBook greets whoever opened a link to a household of its own.
func NewBook() string {
	return "This is your own book, still empty.\nBegin: new damson 23 l\nOthers join by a link: invite"
}

// Welcome tells the keeper who came in.
func Welcome(name string) string { return whole(Name(name) + " joined by your link.") }

// LinkDead is for an invite that is unknown, used or past its day.
func LinkDead() string {
	return "That link does not work: it is used\nup or over a day old. Ask for a new one."
}

// OtherBook is for a link opened in a private chat that is in a book.
func OtherBook() string {
	return "This chat is in a book already. Type\nleave first, then open the link."
}

// Invite gives the link, or the words to send where no link can be made.
func Invite(link string) string {
	return "For one person, for 24 hours:\n" + link + "\nI tell you when it is used."
}

// Household gives the link to a book of one's own.
func Household(link string) string {
	return "For another household, for 24 hours:\n" + link + "\nIts book is its own: you can't read it."
}

// AskInvite asks before a link is made; AskInviteAgain a second time.
func AskInvite() string {
	return "Let one more person into this book?\nThey can read and log all of it."
}

// AskInviteAgain is the second question.
func AskInviteAgain() string {
	return "Sure? Whoever opens the link first is in.\nSend it to that one person alone."
}

// AskHousehold asks before a book for others is made; AskHouseholdAgain again.
func AskHousehold() string {
	return "Let another household keep its own book\nhere? It uses your machine and bot."
}

// AskHouseholdAgain is the second question.
func AskHouseholdAgain() string {
	return "Sure? Whoever opens the link first keeps\nthat book. You can't read it."
}

// GroupAdmitted is said once in a group.
func GroupAdmitted(keeper string) string {
	return whole("This group is in " + Name(keeper) + "'s book.\nType here what you read and did.")
}

// GroupElsewhere is for a group that belongs to another book.
func GroupElsewhere() string { return "This group is in another book already." }

// Hidden says that privacy mode hides plain messages, and the way out.
func Hidden() string {
	return "I can't see plain messages here yet.\nMake me an admin; replies work already."
}

// Seen says that plain messages are visible now.
func Seen() string { return "Now I see what is typed here." }

// KeeperOnly refuses what the keeper alone may do.
func KeeperOnly() string { return "Only the keeper of the book can do that." }

// HostOnly refuses what the host alone may do.
func HostOnly() string { return "Only the host can open a new household." }

// InPrivate sends the keeper to the private chat.
func InPrivate() string { return "Ask me that in our private chat." }

// NoSuchMember is for a name that nobody in the book has.
func NoSuchMember(name string) string { return whole("Nobody here is called " + Name(name) + ".") }

// TwoSuchMembers is for a name that two people have.
func TwoSuchMembers(name string) string {
	return whole("More than one is called " + Name(name) + ".\nUse the number: see members")
}

// AskRemove asks before somebody is taken out.
func AskRemove(name string) string {
	return whole("Take " + Name(name) + " out of the book?\nWhat they typed stays in it.")
}

// AskRemoveAgain is the second question.
func AskRemoveAgain(name string) string {
	return whole("Sure? " + Name(name) + " can't log or read\nhere any more, in the group neither.")
}

// KeeperAlready answers whoever would hand the book to themselves.
func KeeperAlready() string { return "You keep this book already." }

// Removed tells the keeper that it is done.
func Removed(name string) string { return whole(Name(name) + " is out. An invite brings them back.") }

// AskKeeper asks before the book is handed on; AskKeeperAgain a second time.
func AskKeeper(name string) string {
	return whole("Hand the book to " + Name(name) + "? Then only\nthey can invite, remove and export.")
}

// AskKeeperAgain is the second question.
func AskKeeperAgain(name string) string {
	return whole("Sure? You can't take it back yourself.\n" + Name(name) + " will be asked to accept.")
}

// OfferKeeper asks the one who is to keep the book.
func OfferKeeper(from string) string {
	return whole(Name(from) + " wants to hand you the book:\nyou would invite, remove and export.")
}

// KeeperAsked tells the keeper that the other one was asked.
func KeeperAsked(name string) string { return whole(Name(name) + " is asked. Until then you keep it.") }

// NoPrivate says that somebody cannot be asked.
func NoPrivate(name string) string {
	return whole(Name(name) + " has no private chat with me.\nThey must write to me there first.")
}

// KeeperNow tells both who keeps the book.
func KeeperNow(name string) string { return whole(Name(name) + " keeps the book now.") }

// AskLeave asks before somebody leaves.
func AskLeave() string { return "Leave this book? What you typed stays.\nAn invite brings you back." }

// Left says goodbye.
func Left() string { return "You are out of the book." }

// KeeperCannotLeave says what the keeper must do first.
func KeeperCannotLeave() string {
	return "You keep this book. Hand it on first:\nmake NAME keeper"
}

// Unchanged answers a question that was answered with no.
func Unchanged() string { return "Nothing changed." }

// MemberLine is one of the list: number, name, and what they are.
func MemberLine(n int64, name string, keeper, host bool) string {
	line := strconv.FormatInt(n, 10) + " " + Name(name)
	switch {
	case keeper && host:
		return line + ", keeper and host"
	case keeper:
		return line + ", keeper"
	case host:
		return line + ", host"
	}
	return line
}

// ChatLine is one chat of the list.
func ChatLine(title string, hidden bool) string {
	if hidden {
		return "group " + Name(title) + ", sees no plain text"
	}
	return "group " + Name(title)
}

// Flood is the one line at which a chat's messages are no longer taken.
func Flood() string {
	return "Too many at once: I stopped reading.\nSend the last ones again in a minute."
}

// Parked says that a message could not be handled.
func Parked() string { return "Not saved: I failed at that message.\nPlease type it another way." }

// OffTooLong warns the keeper after a long stop: hours is how long.
func OffTooLong(hours int) string {
	return "I was off for " + strconv.Itoa(hours) + " hours. The platform\nkeeps messages for 24: look what is\nmissing and type it again."
}

// Carried begins an answer with one whose arrival is not known.
func Carried(line string) string { return "Before: " + line }

// Labels of the buttons of this file.
const (
	LabelLink   = "Make a link"
	LabelYes    = "Yes, sure"
	LabelRemove = "Remove"
	LabelHandOn = "Hand it on"
	LabelSure   = "Yes, ask them"
	LabelAccept = "Accept"
	LabelNo     = "No"
	LabelLeave  = "Leave"
)

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
