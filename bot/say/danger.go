package say

import "strings"

// emergency is what to call where the household's country is not known.
const emergency = "112 or 911"

// dangers are the texts of first aid. They go out whole, in any chat, to anyone,
// without buttons; {112} is the emergency number of the household's country. That grapes
// and raisins poison dogs, and fermenting dough or fruit by its alcohol: Merck Veterinary
// Manual, "Grape, Raisin, and Tamarind Toxicosis" and "Bread Dough Toxicosis". Burns: National Health
// Service, "Burns and scalds, treatment". How a vessel under pressure is eased: common
// practice, no source. That fruit wine holds traces of methanol: OIV, International Code
// of Oenological Practices, which bounds them (from memory).
var dangers = map[string]string{
	"safety_gas":       "Everybody out, into fresh air, now. Leave the door open. If someone is down do NOT go in: call {112} and say \"carbon dioxide\". Headache or faint that stays: call too.",
	"safety_cleaner":   "Fumes: out into fresh air, door open, do not go back to rinse. Eyes or skin: running water 20 minutes, wet clothes off. Short of breath: call {112}. Otherwise your poison centre.",
	"safety_bottles":   "Stay out and shut the door. Do not move, touch or open any. Children and pets away. Bleeding: press hard, call {112}. When nobody is near them, tell me the batch.",
	"safety_swallowed": "Call {112} or your poison centre now: who, what, how much; read them the label. Do not make anyone vomit. Rinse the mouth with water. Keep the tub.",
	"safety_sulphite":  "Out into fresh air, sit up, own inhaler. Not better within minutes, or lips blue: call {112}. Somebody else clears up, windows open.",
	"safety_cut":       "Press hard with a clean cloth and keep pressing. Leave glass that is stuck in. Spurting or numb: call {112}.",
	"safety_shock":     "Do not touch them or the water. Cut the power at the fuse box, then call {112}.",
	"safety_pet":       "Ring a vet now, day or night: what it ate, how much, when. Grapes, raisins, yeast and fermenting fruit can kill a dog or cat. Do not make it vomit unless they say so. Keep it from the rest.",
	"safety_fire":      "Get everybody out, shut the door behind you, call {112}. Do not use water on anything that is plugged in.",
	"safety_burn":      "Cool running water, 20 minutes; rings and wet clothes off, not what sticks. No ice, no butter. Then cling film. Face, hand, a child, or bigger than a palm: call {112}.",
	"safety_glass":     "Nobody tastes it or strains it to save it: fine glass gets through. Pour it away, gloves on. Mercury: air the room, no vacuum cleaner. Swallowed: call {112} or your poison centre.",
	"safety_pressure":  "Children out, face away, goggles, a thick towel over it: ease bung or lid a little at a time. Tight glass: do not touch it, shut the door, stay out. Anyone hurt: call {112}.",
	"safety_vessel":    "Do not drink it. Wine is acid: it takes copper, zinc and lead out of metal and glaze, and poison out of tubs not made for food. Drunk and ill: call {112} or your poison centre.",
	"safety_methanol":  "Sight blurred or very ill after drinking: call {112} now. Fruit wine holds only traces of methanol, too little to blind. Never distil it; never drink spirit of unknown make.",
}

// Danger returns the text for a cry for help and whether the topic is one. number
// is the emergency number where it is known.
func Danger(topic, number string) (string, bool) {
	t, ok := dangers[topic]
	if number == "" {
		number = emergency
	}
	return strings.ReplaceAll(t, "{112}", number), ok
}

// SeenLate marks a text of first aid that comes late.
func SeenLate(text string) string { return "Seen only now: " + text }

// northAmerica are the zones of the United States and of Canada.
var northAmerica = map[string]bool{"America/New_York": true, "America/Detroit": true, "America/Chicago": true, "America/Denver": true, "America/Phoenix": true,
	"America/Los_Angeles": true, "America/Anchorage": true, "Pacific/Honolulu": true, "America/Boise": true, "America/Toronto": true, "America/Vancouver": true,
	"America/Edmonton": true, "America/Winnipeg": true, "America/Halifax": true, "America/Regina": true, "America/St_Johns": true}

// EmergencyIn returns the emergency number where a household lives, by its time zone;
// empty where the zone does not tell. 112 is answered all over Europe, 911 in the
// United States and Canada, 000 in Australia, 111 in New Zealand (from memory).
func EmergencyIn(zone string) string {
	switch {
	case strings.HasPrefix(zone, "Europe/"):
		return "112"
	case northAmerica[zone]:
		return "911"
	case strings.HasPrefix(zone, "Australia/"):
		return "000"
	case zone == "Pacific/Auckland":
		return "111"
	}
	return ""
}
