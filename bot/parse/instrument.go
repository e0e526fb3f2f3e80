package parse

import "strings"

// notNames stand beside the word hydrometer and are not its name.
var notNames = " the a an my our your this that with on using by of in at and is was are reads read says said shows showed marked made calibrated for from all to says: set = - : , . it its hydrometer stem thermometer refractometer again now one "

// instrumentNamed finds what the text calls the instrument it speaks of: "the long
// hydrometer", "hydrometer long", "Tom's hydrometer", and "with the long one" where the
// house knows one of that name. The items of the phrase are from <= k < to; to is 0 where
// there is none. The house's own has no name.
func (r *reader) instrumentNamed() (name string, from, to int) {
	for i := range r.items {
		it := &r.items[i]
		if (it.is(cInstr) || strings.HasPrefix(it.fold, "hydrometer ")) && it.batch == 0 {
			from, to = i, i+1
			name = strings.TrimSpace(strings.NewReplacer("hydrometer", "", "stem", "", "says", "", "the ", "", "my ", "").Replace(it.fold + " "))
			if k := i - 1; name == "" && k >= 0 && r.namesInstrument(k) {
				name, from = r.items[k].fold, k
			} else if k := i + 1; name == "" && k < len(r.items) && r.namesInstrument(k) {
				name, to = r.items[k].fold, k+1
			}
			return strings.TrimSuffix(name, "'s"), from, to
		}
		if it.fold == "refractometer" {
			return "refractometer", i, i + 1
		}
		if n := r.knownInstrument(i); n > 0 && (i > 0 && strings.Contains(" the with on using by ", " "+r.items[i-1].fold+" ") || i+n < len(r.items) && r.items[i+n].fold == "one") {
			to = i + n
			if to < len(r.items) && r.items[to].fold == "one" {
				to++
			}
			return r.instrumentOf(i, n), i, to
		}
	}
	return "", 0, 0
}

// namesInstrument reports a word that may be a hydrometer's name.
func (r *reader) namesInstrument(k int) bool {
	it := &r.items[k]
	return it.kind == tWord && it.batch == 0 && it.used == "" && !strings.Contains(notNames, " "+it.fold+" ") &&
		(!it.is(cUnit) || it.name(cUnit) == "half bottle") && !it.is(cLabel) && !it.is(cDeed) && !it.is(cMaterial) && !it.is(cQ) && !it.is(cIn)
}

// knownInstrument is how many items from i on are the name of an instrument of the house.
func (r *reader) knownInstrument(i int) int {
	for _, name := range r.ctx.Instruments {
		n := len(strings.Fields(name))
		if n > 0 && i+n <= len(r.items) && r.instrumentOf(i, n) == fold(name) && r.items[i].batch == 0 {
			return n
		}
	}
	return 0
}

func (r *reader) instrumentOf(i, n int) string {
	var ws []string
	for k := i; k < i+n; k++ {
		ws = append(ws, r.items[k].fold)
	}
	return strings.Join(ws, " ")
}

// readWith says of the gravities of a message which instrument they were read with.
func (r *reader) readWith(d *draft, name string) {
	if name == "" {
		return
	}
	for i := range d.claims {
		switch d.claims[i].e.Quantity {
		case "sg", "og", "brix", "balling", "oechsle", "baume", "kmw":
			d.claims[i].e.Instrument = name
		}
	}
}

// forAll reports "for all": the change is meant for what was read before it too.
func forAll(f string) bool {
	return strings.Contains(f, "for all") || strings.Contains(f, "all readings") || strings.Contains(f, "every reading")
}

// instrumentSetting reads what a hydrometer is marked for, whose own it is, and the error
// of a thermometer: "the small hydrometer is 60f", "my hydrometer is the long one",
// "thermometer reads 1 in ice water".
func (r *reader) instrumentSetting() (Intent, bool) {
	f := strings.TrimRight(strings.TrimSpace(r.folded), ".! ")
	if strings.Contains(f, "?") || len(r.items) > 14 {
		return Intent{}, false
	}
	if strings.Contains(f, "thermometer") {
		return r.thermometer(f)
	}
	if !strings.Contains(f, "hydrometer") {
		return Intent{}, false
	}
	for _, own := range []string{"my hydrometer is ", "i use ", "mine is ", "i read with "} {
		if rest, ok := strings.CutPrefix(f, own); ok && !r.hasNumber() {
			name := strings.TrimSpace(strings.NewReplacer("the ", "", "hydrometer", "", " one", "").Replace(rest))
			if name != "" && len(strings.Fields(name)) <= 2 {
				return Intent{Kind: Question, Topic: TopicOwnHydrometer, Args: map[string]any{"instrument": name}}, true
			}
		}
	}
	name, from, to := r.instrumentNamed()
	n, unit, has := r.firstNumber()
	if !has || gravityShaped(n) || to == 0 || name == "refractometer" || unit != "F" && unit != "C" && n.val != 20 && n.val != 15 && n.val != 60 {
		return Intent{}, false
	}
	for i := range r.items { // anything else than the instrument and its mark is a reading
		it := &r.items[i]
		known := i >= from && i < to || it.is(cFill) || it.is(cUnit) || it.kind == tPunct || it.batch == 0 && strings.Contains(notNames, " "+it.fold+" ") || it.num == n
		if it.batch > 0 || !known && it.kind == tNum || !known && it.is(cAmbient) {
			return Intent{}, false
		}
	}
	if unit == "" || unit == "deg" {
		unit = "C"
		if n.val > 40 {
			unit = "F"
		}
	}
	args := map[string]any{"value": n.val, "unit": unit}
	if name != "" {
		args["instrument"] = name
	}
	if forAll(f) {
		args["all"] = true
	}
	return Intent{Kind: Question, Topic: TopicSetHydrometer, Args: args}, true
}

// thermometer reads by how much a thermometer is off: in melting ice it should show 0 °C.
func (r *reader) thermometer(f string) (Intent, bool) {
	n, unit, has := r.firstNumber()
	if !has || n.val > 60 || r.namedBatch() > 0 {
		return Intent{}, false
	}
	if unit != "F" {
		unit = "C"
		if r.ctx.Units == "us" {
			unit = "F"
		}
	}
	if strings.Contains(f, " 0c") || strings.HasSuffix(f, "°c") {
		unit = "C"
	}
	v := n.val
	switch {
	case hasAny(f, "ice|melting"):
		if unit == "F" {
			v -= 32
		}
		if strings.Contains(f, "-"+n.typed) {
			v = -n.val
		}
	case hasAny(f, "high|too high|over|too warm"):
	case hasAny(f, "low|too low|under|too cold"):
		v = -v
	default:
		return Intent{}, false
	}
	if v > 10 || v < -10 {
		return Intent{}, false
	}
	args := map[string]any{"value": v, "unit": unit}
	if forAll(f) {
		args["all"] = true
	}
	return Intent{Kind: Question, Topic: TopicSetThermometer, Args: args}, true
}

// instrument reads the check in water: the error is the reading less one.
// The error belongs to the instrument, not to a batch, so the entry has no
// batch. Only readings near 1.000 count: a wine watered down is no
// calibration.
func (r *reader) instrument(d *draft, named string, said bool) (Intent, bool) {
	water := false
	for i := range r.items {
		water = water || r.items[i].is(cIn) || said && r.inWater(i)
	}
	if !water {
		return Intent{}, false
	}
	name := named
	if said && name == "" {
		name = "hydrometer"
	}
	for i := range d.values {
		v := &d.values[i]
		g := gravityValue(v.n)
		if v.q != "sg" && v.q != "bare" || name == "" && (r.namedBatch() > 0 || g < 0.988 || g > 1.012) || !gravityShaped(v.n) || g < 0.97 || g > 1.03 {
			continue
		}
		if !r.addressed() && r.weigh().unknown > 1 {
			return Intent{}, false
		}
		f := round4(g - 1)
		e := Entry{Quantity: "instrument_error", Value: &f, Unit: "sg", Typed: v.n.typed, Deed: "instrument check", Instrument: name}
		if forAll(r.folded) {
			e.Type = "for all"
		}
		return Intent{Kind: Event, Event: "instrument check", Entries: []Entry{e}}, true
	}
	return Intent{}, false
}

// inWater reports "in plain tap water" beside an instrument: small words may stand between.
func (r *reader) inWater(i int) bool {
	if r.items[i].name(cMaterial) != "water" {
		return false
	}
	for k := i - 1; k >= 0 && k >= i-4; k-- {
		it := &r.items[k]
		if it.fold == "in" || it.fold == "with" || it.fold == "into" || it.fold == "in it" {
			return true
		}
		if it.kind != tWord || it.batch > 0 || it.is(cDeed) || it.is(cMaterial) {
			return false
		}
	}
	return false
}

// namesTool reports "on the kitchen thermometer": the room says which instrument it was
// read with, and not where.
func (r *reader) namesTool(k int) bool {
	if k+1 >= len(r.items) {
		return false
	}
	switch r.items[k+1].fold {
	case "thermometer", "probe", "gauge", "thermo":
	default:
		return false
	}
	for j := k - 1; j >= 0 && j >= k-3; j-- {
		switch r.items[j].fold {
		case "on", "with", "by", "using", "per", "via", "from", "according to":
			return true
		}
	}
	return false
}
