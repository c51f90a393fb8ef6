package datasets

import "testing"

func TestLikeNames(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"KS", "KS-new", true}, // something behind it
		{"KS", "KS2", true},    // a number behind letters
		{"P1", "P10", false},   // another number
		{"P01", "P02", false},  // a digit changed
		{"Schmidt", "Schmitt", true},
		{"Ash", "Ahs", true}, // two letters changed places
		{"Ash", "Elm", false},
		{"AB", "AC", false}, // too short to tell
	} {
		if got := likeNames(c.a, c.b); got != c.want {
			t.Errorf("%s and %s alike: %v, want %v", c.a, c.b, got, c.want)
		}
		if got := likeNames(c.b, c.a); got != c.want {
			t.Errorf("%s and %s alike: %v, want %v", c.b, c.a, got, c.want)
		}
	}
}

func TestArmsByOtherWords(t *testing.T) {
	for _, c := range []struct {
		short, long string
		want        bool
	}{
		{"control", "control group", true},
		{"ctrl", "control", true},
		{"sim", "simulator", true},
		{"box", "VR", false},
		{"VR", "VR + box", false},     // both devices
		{"part", "part task", false},  // may be another one
		{"group 1", "group 2", false}, // numbers tell them apart
		{"A", "B", false},
	} {
		if got := shorter(c.short, c.long); got != c.want {
			t.Errorf("%s for %s: %v, want %v", c.short, c.long, got, c.want)
		}
	}
}

func TestPlainCodeJoinsWritings(t *testing.T) {
	for _, same := range [][2]string{{"P01", "PO1"}, {"Müller", "Mueller"}, {"Ash", "Dr. Ash"}, {"T1", "t-01"}, {"Böhm", "BÃ¶hm"}} {
		if plainCode(same[0]) != plainCode(same[1]) {
			t.Errorf("%s is %s, %s is %s", same[0], plainCode(same[0]), same[1], plainCode(same[1]))
		}
	}
	for _, apart := range [][2]string{{"P10", "P1"}, {"Ash", "Elm"}, {"S1", "S2"}} {
		if plainCode(apart[0]) == plainCode(apart[1]) {
			t.Errorf("%s and %s are both %s", apart[0], apart[1], plainCode(apart[0]))
		}
	}
}

func TestHoursAndMinutesSaid(t *testing.T) {
	for text, want := range map[string]float64{"1:30": 5400, "0:02": 120} { // 1 h 30 min, 2 min
		if got, ok := duration(text, notation{}, hoursAndMinutes); !ok || got != want {
			t.Errorf("%s is %v s, want %v", text, got, want)
		}
	}
	if _, ok := duration("1:30.5", notation{}, hoursAndMinutes); ok {
		t.Error("half a second was read as part of a minute")
	}
}

func TestNamesOfTimesLeft(t *testing.T) {
	for name, want := range map[string]bool{
		"Time left": true, "Time left (s)": true, "Remaining (s)": true, "Restzeit": true, "seconds_left": true, "temps restant": true,
		"Time left hand": false, "left hand": false, "Restart": false, "Time": false, "Resting time": false,
	} {
		if got := timeLeftName.MatchString(name); got != want {
			t.Errorf("%q is time left: %v, want %v", name, got, want)
		}
	}
	for name, want := range map[string]bool{"Frames": true, "video frames": true, "Time (cs)": true, "Hundertstel": true, "Zeit 1/100 s": true, "Time": false, "Seconds": false, "Time (s)": false, "Zeit [ms]": false, "Duration_s": false, "Focus": false} {
		if got := otherUnitName.MatchString(name); got != want {
			t.Errorf("%q has another unit: %v, want %v", name, got, want)
		}
	}
}

// A slip of the fingers is one letter, however many bytes it takes, and whichever word is longer.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{{"ash", "aish", true}, {"aish", "ash", true}, {"ash", "asg", true}, {"ash", "sah", true}, {"b1ÿ", "b100", false}, {"b100", "b1ÿ", false}, {"jürg", "jurg", true}, {"t01", "t02", false}, {"ash", "asmer", false}} {
		if got := slip([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("%s and %s differ by a slip: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}
