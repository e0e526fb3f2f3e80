package parse

// numberAhead reports a number before item k.
func (r *reader) numberAhead(k int) bool {
	for i := range k {
		if r.items[i].kind == tNum {
			return true
		}
	}
	return false
}

// toldBehind reports a gravity with all its digits in the sentence behind the full stop at
// k: "who left the light on. anyway merlot 1.012" asks first and then tells.
func (r *reader) toldBehind(k int) bool {
	for j := k + 1; j < len(r.items) && !r.items[j].punct(".") && !r.items[j].punct("?") && r.items[j].kind != tLine; j++ {
		if it := &r.items[j]; it.is(cQ) && it.strongWord() && j == k+1 {
			return false
		} else if gravityItem(it) && it.num.decimals == 3 {
			return true
		}
	}
	return false
}

// bareVerb reports a verb in the form that stands behind "did".
func (r *reader) bareVerb(k int) bool {
	if k >= len(r.items) {
		return false
	}
	switch r.items[k].fold {
	case "get", "have", "need", "go", "reach", "drop", "finish", "stop", "start", "clear", "come", "make", "ever", "even", "move", "change", "taste", "smell", "look", "fit", "work", "want", "be", "happen", "pass", "boil", "foam", "all", "really", "just", "actually", "finally", "already", "use", "stay", "keep", "wait", "stand", "hold", "take", "still":
		return true
	}
	return r.items[k].is(cAct)
}

// plainVerbBehind reports "did the sloe get stirred": behind the name stands a verb that
// nobody tells in this form.
func (r *reader) plainVerbBehind(k int) bool {
	j := k + 1
	for j < len(r.items) && (r.items[j].fold == "the" || r.items[j].fold == "our" || r.items[j].fold == "my") {
		j++
	}
	if j+1 < len(r.items) && j == k+1 && r.items[j].batch == 0 && (r.items[j].is(cPerson) || r.isMember(r.items[j].fold) || r.items[j].kind == tWord && len(r.items[j].senses) == 0) { // "did Col stir it"
		return r.items[j+1].is(cAct)
	}
	if j+1 >= len(r.items) || r.items[j].batch == 0 {
		return false
	}
	return r.bareVerb(j + 1)
}

// askedOfPeople reports a question that names a batch and yet is hardly about it: "who
// wants elder", "shall we open one", "how tall is gorse".
func (q *question) askedOfPeople() bool {
	if q.begins {
		return true
	}
	switch q.topic {
	case TopicWho:
		return q.args["deed"] == nil && !q.still || q.ahead
	case TopicWhy:
		return !q.still
	case TopicStatus:
		if q.found {
			return q.oddly
		}
		if q.people || q.ahead {
			return true
		}
		switch q.asks {
		case "how":
			return q.oddly
		case "can", "could", "may", "shall", "would", "will":
			return true
		}
	}
	return false
}
