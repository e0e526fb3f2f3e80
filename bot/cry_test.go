package bot

import (
	"strings"
	"testing"

	"mustbook/bot/parse"
	"mustbook/bot/say"
)

// Each kind of cry has its text, with a number to call where the house is, and none
// says what must never be said: to go in after somebody, to make anyone vomit.
func TestFirstAid(t *testing.T) {
	for _, topic := range []string{parse.TopicSafetyGas, parse.TopicSafetyCleaner, parse.TopicSafetyBottles, parse.TopicSafetySwallow, parse.TopicSafetySulphite,
		parse.TopicSafetyCut, parse.TopicSafetyShock, parse.TopicSafetyFire, parse.TopicSafetyBurn, parse.TopicSafetyGlass, parse.TopicSafetyPressure, parse.TopicSafetyVessel, parse.TopicSafetyMethanol} {
		for zone, number := range map[string]string{"Europe/Dublin": "112", "America/Chicago": "911", "Australia/Perth": "000", "Pacific/Auckland": "111", "UTC": "112 or 911", "Asia/Tokyo": "112 or 911"} {
			text, ok := say.Danger(topic, say.EmergencyIn(zone))
			if !ok || !strings.Contains(text, number) || strings.Contains(text, "{") {
				t.Errorf("%s in %s: %q", topic, zone, text)
			}
		}
	}
	if pet, ok := say.Danger(parse.TopicSafetyPet, "112"); !ok || !strings.Contains(pet, "vet") || strings.Contains(pet, "112") { // whoever answers 112 is no vet
		t.Errorf("a pet: %q", pet)
	}
	gas, _ := say.Danger(parse.TopicSafetyGas, "")
	swallowed, _ := say.Danger(parse.TopicSafetySwallow, "")
	if !strings.Contains(gas, "do NOT go in") || !strings.Contains(swallowed, "Do not make anyone vomit") {
		t.Error("the never-dos are missing")
	}
	if _, ok := say.Danger(parse.TopicStatus, ""); ok {
		t.Error("a plain question got first aid")
	}
}

// A stranger is heard too, and talk of strangers is no cry.
func TestStrangersAreHeard(t *testing.T) {
	if got := CryFor("I mixed bleach and vinegar"); got != parse.TopicSafetyCleaner {
		t.Errorf("a stranger's cry: %q", got)
	}
	if got := CryFor("what a lovely cellar"); got != "" {
		t.Errorf("a stranger's talk: %q", got)
	}
}
