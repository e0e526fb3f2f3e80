package parse

// prices marks the numbers that are money, list marks or years, so that none is
// taken for a reading: "cost me 12.50", "1.20 a kilo", "2) quince", "Gorse 2026".
func (r *reader) prices() {
	calibrated := false
	for k := range r.items {
		it := &r.items[k]
		calibrated = calibrated || it.name(cInstr) == "buffer"
		if it.kind != tNum || it.used != "" || it.batch > 0 {
			continue
		}
		switch {
		case r.ofAnotherGauge(k) || calibrated && r.calibrates(k):
			it.used = "count"
		case k > 0 && r.items[k-1].name(cSay) == "not", gravityShaped(it.num) && r.notReached(k):
			it.used = "denied"
		case r.paidBefore(k) || r.perBehind(k):
			it.used = "price"
		case k+1 < len(r.items) && r.items[k+1].name(cUnit) == "points" && it.num.whole():
			it.used = "points"
		case k > 0 && it.num.whole() && (r.items[k-1].name(cUnit) == "week" || r.items[k-1].name(cUnit) == "month") && (k == 1 || r.items[k-2].kind != tNum):
			it.used = "count" // "week 1"
		case k > 0 && k+2 < len(r.items) && it.num.whole() && (r.items[k-1].fold == "down" || r.items[k-1].fold == "by") && r.items[k+1].fold == "to" && gravityItem(&r.items[k+2]):
			it.used = "points" // "down 10 to 1.031"
		case k > 1 && (r.items[k-1].fold == "no" || r.items[k-1].fold == "number" || r.items[k-1].fold == "nr") && r.items[k-2].name(cAct) == "read":
			it.used = "count"
		case r.doseRate(k):
			it.used = "rate"
		case r.listMark(k):
			it.used, r.items[k+1].used = "list", "list"
		case k > 0 && r.items[k-1].batch > 0 && it.num.whole() && len(it.num.digits) == 4 && it.num.val >= 1900 && plausibleYear(int(it.num.val), r.ctx.Now) && !(k+1 < len(r.items) && r.items[k+1].glued && r.items[k+1].is(cUnit)): // but "peach 2000f"
			it.used = "year"
		case k > 0 && it.num.whole() && len(it.num.digits) == 4 && it.num.val >= 1950 && plausibleYear(int(it.num.val), r.ctx.Now) && (r.items[k-1].fold == "in" || r.items[k-1].fold == "of" || r.items[k-1].fold == "from" || r.items[k-1].fold == "since"):
			it.used, r.noDay = "year", r.noDay || int(it.num.val) != r.ctx.Now.Year()
		case k+1 < len(r.items) && it.num.whole() && it.num.val > 28 && it.num.val < 100 && monthBeside(&r.items[k+1]): // "31 february"
			it.used, r.items[k+1].used, r.noDay = "date", "date", true
		}
	}
}

// calibrates reports a figure of a meter's calibration: of a buffer, not of the wine.
func (r *reader) calibrates(k int) bool {
	for j := k - 1; j >= 0; j-- {
		it := &r.items[j]
		if it.name(cInstr) == "buffer" {
			return true
		}
		if it.batch > 0 || it.breaks() && it.used == "" {
			return false
		}
	}
	return false
}

// ofAnotherGauge reports "barometer 1021": whole digits right behind a thing of another
// topic, that look like a gravity beside one with all its digits.
func (r *reader) ofAnotherGauge(k int) bool {
	return k > 0 && r.items[k].num.whole() && gravityShaped(r.items[k].num) && r.items[k-1].is(cOther) && !r.items[k-1].cellar() && r.items[k-1].batch == 0 && r.fullGravity()
}

// monthBeside reports a month that is no other word.
func monthBeside(it *item) bool {
	return it.is(cMonth) && it.used == "" && it.batch == 0 && it.fold != "may" && it.fold != "mar" && it.fold != "march"
}

// paidBefore reports a word of paying or a sign of money before a number.
func (r *reader) paidBefore(k int) bool {
	for j := k - 1; j >= 0 && j >= k-3; j-- {
		switch r.items[j].fold {
		case "cost", "costs", "paid", "price", "pay", "€", "£", "$", "kostet", "coute", "cuesta", "costa":
			return true
		case "me", "us", "only", "just", "about", "like", "is", "was", "of":
			continue
		}
		return false
	}
	return false
}

// perBehind reports "a kilo" or "per bottle" behind a number without a unit, and
// names of money.
func (r *reader) perBehind(k int) bool {
	if k+1 >= len(r.items) {
		return false
	}
	switch n := &r.items[k+1]; n.fold {
	case "gekostet", "€", "£", "$", "quid", "euro", "euros", "dollars", "bucks", "eur", "usd", "gbp":
		return true
	case "for": // "1.04 for a litre of milk"
		return r.items[k].num.decimals == 2 && k+3 < len(r.items) && (r.items[k+2].is(cArt) || r.items[k+2].fold == "the") && r.items[k+3].batch == 0 && (r.items[k+3].is(cNoun) || r.items[k+3].is(cUnit) && !timeUnit(r.items[k+3].name(cUnit)))
	case "a", "per", "each":
		return r.items[k].num.decimals >= 2 && k+2 < len(r.items) && (r.items[k+2].is(cUnit) || r.items[k+2].is(cNoun))
	}
	return false
}

// doseRate reports how much of something goes into each gallon or litre, where the whole
// amount is told behind it: "1 campden per gallon, so 5 tablets".
func (r *reader) doseRate(k int) bool {
	_, to := r.clauseOf(k)
	for j := k + 1; j+1 < to && j < k+5; j++ {
		if r.items[j].fold != "per" && r.items[j].fold != "a" && r.items[j].fold != "each" && r.items[j].fold != "to the" || !isVolumeUnit(r.items[j+1].name(cUnit)) {
			continue
		}
		for n := to; n+1 < len(r.items); n++ {
			if r.items[n].kind == tNum && (massOrCount(r.items[n+1].name(cUnit)) && !isVolumeUnit(r.items[n+1].name(cUnit)) || r.items[n+1].is(cMaterial)) {
				return true
			}
		}
	}
	return false
}

// listMark reports "2)" at the head of a line, and "2." before a word.
func (r *reader) listMark(k int) bool {
	it := &r.items[k]
	if !it.num.whole() || len(it.num.digits) > 2 || k > 0 && r.items[k-1].kind != tLine || k+2 >= len(r.items) || !r.items[k+1].glued {
		return false
	}
	return r.items[k+1].punct(")") || r.items[k+1].punct(".") && r.items[k+2].kind == tWord && !r.items[k+2].glued && r.items[k+2].batch > 0
}

// notReached reports a mark that the wine has not passed: "not yet at 1.040", "still above
// 1.040", "nowhere near 1.010". Where it stands is not told.
func (r *reader) notReached(k int) bool {
	for j := k - 1; j >= 0 && j > k-6; j-- {
		it := &r.items[j]
		if it.used != "" || it.batch > 0 {
			return false
		}
		if it.name(cDeny) == "not" {
			return true
		}
		switch it.fold {
		case "near":
			return j > 0 && r.items[j-1].fold == "nowhere"
		case "above", "over", "uber":
			if j == k-1 && j > 0 && (r.items[j-1].fold == "still" || r.items[j-1].fold == "noch" || r.items[j-1].fold == "immer noch") {
				return true
			}
		case "at", "to", "yet", "get", "got", "been", "gone", "reached", "hit", "below", "under", "down", "down to", "quite", "even", "passed", "past", "unter", "bei", "auf", "sous", "encore", "a", "onder", "op", "sotto", "ancora", "aun", "bajo", "ponizej", "pod":
		default:
			return false
		}
	}
	return false
}

// markDenied reports that notReached took a gravity away: that is told of the wine all the same.
func (r *reader) markDenied() bool {
	for i := range r.items {
		if r.items[i].used == "denied" && gravityItem(&r.items[i]) {
			return true
		}
	}
	return false
}
