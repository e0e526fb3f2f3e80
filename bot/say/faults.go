package say

import (
	"fmt"
	"strings"
	"time"

	"mustbook/ferment"
)

// The pages of advice on a fault: what it is likely to be, what to look at, steps, and
// what never to do (common practice, no source, where nothing else is said). At most
// four lines, so that they stand below what was noted.
var faults = map[string][]string{
	"vinegar":       {"Vinegar: air and bacteria. Keep it apart", "Slight: sulphite, top up full, no flies.", "Strong: let it be vinegar", "Never blend it into good wine"},
	"slime":         {"Slime at the edge: vinegar bacteria", "Keep it and its hose apart. Slight:", "rack from below, sulphite, top up full", "Never blend it into good wine"},
	"foam":          {"Foaming over: fit a blow-off hose", "Clean it all, fresh airlock, cool it down", "Too full? Take some out and keep it", "Never seal it or plug it tighter"},
	"geranium":      {"Geranium: sorbate met malolactic", "Nothing cures it. Add no more"},
	"match":         {"Struck match: sulphur dioxide, as a rule", "It fades: air it once, rack with a splash", "No more sulphite before a free SO2 test"},
	"taint":         {"Mouse, cork, rubber, mould: a taint", "One bottle or all? Open another", "Keep it and its hose apart, blend nothing"},
	"medicine":      {"Plaster, medicine: chlorine or wild yeast", "Was bleach used? Rinse all of it long", "Keep it apart, do not blend it"},
	"brown":         {"Brown, sherry: air got at it", "Sulphite (ask: sulphite?), top up full", "Drink it soon; nothing turns it back"},
	"rise":          {"Gravity up: gas lifts the stem, sugar", "went in, or it was another batch", "Spin the stem, read twice as warm as last"},
	"crystals":      {"Crystals: tartrate, harmless", "Cold brings them out: rack off them cold", "In a bottle: pour gently, leave the last"},
	"much_sugar":    {"Too much sugar: stir well, then read it", "Over 1.120 most yeast gives up early", "Thin it before it works: water to 1.090", "Stopped already? Blend with a dry one"},
	"much_sulphite": {"Too much sulphite: stir in air, wait", "Before the yeast: 24 h open under a cloth", "Test the free SO2; blending thins it", "No peroxide, no guess at an antidote"},
	"much_acid":     {"Too much acid: taste it, test the acidity", "Then ask: acid down to 6.5", "Malolactic or blending softens it too", "No chalk by guess: it goes flat and soapy"},
	"much_water":    {"Too much water: stir, read the gravity", "Then ask: sugar to 1.085", "Acid and taste are thinner too: test it", "After fermentation: blend a stronger one"},
	"much_oak":      {"Too much oak or tannin: take it out now", "Time rounds it; blending thins it", "Gelatine or egg white takes some: try it", "in a glass first"},
	"much_nutrient": {"Too much nutrient: add no more of it", "Let the yeast eat it: ferment it dry", "What is left over feeds spoilage:", "clean, topped up, sulphite at the end"},
	"other":         {"What do you see or smell? Type one of:", "eggs, vinegar, film, haze, foam, fizz,", "brown, stuck, too hot, too cold, crystals"},
}

// Fault answers a fault, by what the book knows of the batch; b may be nil. nil for a
// fault without a page.
func (s Style) Fault(b *ferment.State, name string) []string {
	if b == nil {
		b = &ferment.State{}
	}
	switch name {
	case "eggs":
		return s.eggs(b)
	case "film":
		return s.film(b)
	case "haze":
		return s.haze(b)
	case "hot", "cold":
		return s.warmth(b, name)
	case "no_start":
		return s.noStart(b)
	case "stuck":
		return s.stuck(b)
	case "sluggish":
		return []string{"Slow: too cold, hungry, once too hot,", "or near its end. Read it daily", s.Between(18, 21) + ", swirl; nutrient only before", "two thirds of the sugar is gone"}
	case "fizz":
		return s.fizz(b)
	}
	return faults[name]
}

func (s Style) eggs(b *ferment.State) []string {
	if b.Stop.Shown.IsZero() && b.Gone <= 2.0/3 && len(b.Racked) == 0 {
		feed := "Nutrient (ask: nutrients?), stir hard:"
		if b.Has(ferment.TooHot) {
			feed = "Cool it first, then nutrient; stir hard:"
		}
		return []string{"Eggs: hungry yeast, most often", feed, "air helps at this stage", "No pennies, no copper pipe by guess"}
	}
	then := "Then sulphite; smell again in two days"
	if b.MLFOpen() {
		then = "No sulphite: malolactic is open"
	}
	return []string{"Eggs: rack it with a splash", then, "Copper only after a test, by a scale;", "never pennies or pipe by guess"}
}

func (s Style) film(b *ferment.State) []string {
	if b.Stage == ferment.Lag || b.Stage == ferment.Primary {
		return []string{"A skin while it works: foam, as a rule", "Push it under, keep flies out", "Powdery and white later on: film yeast"}
	}
	lines := []string{"White film: film yeast, and air above it", "Take it off, rack from below, sulphite,", "top up full. Never stir it in"}
	if b.FreeSO2 != nil {
		return append(lines, fmt.Sprintf("Free SO2 was %.0f mg/L %s", b.FreeSO2.Value, s.On(b.FreeSO2.At)))
	}
	return append(lines, "Free SO2? Test it")
}

func (s Style) haze(b *ferment.State) []string {
	switch {
	case !b.Pitched.IsZero() && b.Stop.Shown.IsZero():
		return []string{"Hazy while it works: that is yeast", "Wait until it has stopped"}
	case !b.Fined.IsZero() && s.Now.Sub(b.Fined) < 14*24*time.Hour:
		return []string{fmt.Sprintf("Fined %s: give it two weeks", s.On(b.Fined)), "Cool, still, not moved", "Never fine twice blind"}
	case b.Degassed.IsZero():
		return []string{"Haze: gas in it? Degas it first", "Then pectin (enzyme), protein (bentonite,", "try it in a glass), yeast (cold, time)", "Never fine twice blind"}
	}
	return []string{"Haze: pectin? Some wine into 4 parts of", "spirit: jelly tells. Throw that away,", "never taste. Pectin wants enzyme, protein", "bentonite. Never fine twice blind"}
}

func (s Style) warmth(b *ferment.State, name string) []string {
	known := ""
	if t := newestTemp(b); t != nil && s.Now.Sub(t.At) < 48*time.Hour {
		known = ": it was " + s.Temp(t.C)
	}
	if name == "hot" {
		return []string{"Too hot" + known + ", hurts over " + s.Temp(30), "Wet towel, fan, ice bottles round it;", s.degrees(5) + " an hour at most; split it", "No nutrient now, no ice in the wine"}
	}
	return []string{"Too cold" + known + ". " + s.Temp(18) + " is wanted", "Off the floor, blanket, warm it slowly", "A heater needs a thermostat; no belts on", "wet floors, plug with an RCD"}
}

func (s Style) noStart(b *ferment.State) []string {
	if b.Pitched.IsZero() {
		return []string{"No yeast is in the book yet", "Type it like: pitched yesterday 18:00"}
	}
	hours := s.Now.Sub(b.Pitched).Hours()
	if hours < 72 {
		return []string{fmt.Sprintf("%.0f h since the yeast: up to 48 is normal", hours), "Lid leaks? A still airlock proves nothing", s.Between(20, 24) + ", stir, read the gravity", "No fresh yeast before 72 h"}
	}
	sulphite := "Juice with sorbate? Old yeast? Sulphite?"
	if !b.Sulphited.IsZero() {
		sulphite = "Sulphite " + s.On(b.Sulphited) + ". Sorbate? Old yeast?"
	}
	return []string{"Three days and no start: act", sulphite, "Make a starter apart; in when it works", "No more sulphite"}
}

func (s Style) stuck(b *ferment.State) []string {
	if b.Stop.Proven() {
		return []string{"Not stuck", s.stoppedLine(b), "A fixed gravity low down is dry wine"}
	}
	first := "Stuck? Three readings in three days tell"
	if b.Has(ferment.Stuck) {
		first = fmt.Sprintf("Stuck: about %s sugar left", s.PerLitre(b.SugarLeft))
	}
	if b.Has(ferment.TooCold) {
		first = "Cold, perhaps not stuck: warm it first"
	}
	steps := "Then a restart culture, in steps"
	if b.ABVKnown && b.ABV >= 14 {
		steps = "Over 14 % the yeast may be at its end"
	}
	return []string{first, "Warm to " + s.Between(20, 22) + " slowly, swirl lees", steps, "No dry yeast on top; no bottling"}
}

func (s Style) fizz(b *ferment.State) []string {
	switch {
	case b.Bottled.IsZero() && !b.Pitched.IsZero():
		return []string{"Gas in the jar: it works, malolactic,", "or gas left in it. Read it twice", "Do not bottle it yet"}
	case !b.Bottled.IsZero() && s.Now.Sub(b.Bottled) < 48*time.Hour:
		return []string{"Let nobody near, do not carry", "Filled under two days ago: goggles,", "gloves, open all, back into the jar", "Never shake, never \"leave it a week\""}
	}
	return []string{"Let nobody near, do not carry", "Cool the room, wait a day. Then goggles,", "gloves, sleeves, a cloth over, open there", "Never shake, never \"leave it a week\""}
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
