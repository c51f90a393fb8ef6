package grid

import (
	"strings"
	"testing"
)

// Bytes as the standards list them (WHATWG Encoding Standard, index of each): Ł is A3 in Windows-1250 and 氏名 is
// 8E 81 96 BC in Shift_JIS, Я is DF in Windows-1251, 한 is C7 D1 in EUC-KR, 中 is D6 D0 in GB18030 and A4 A4 in Big5.
func TestOtherAlphabets(t *testing.T) {
	for name, c := range map[string]struct{ bytes, want string }{
		"windows-1250": {"\xa3ucja", "Łucja"},
		"windows-1251": {"\xdf1", "Я1"},
		"shift_jis":    {"\x8e\x81\x96\xbc", "氏名"},
		"euc-kr":       {"\xc7\xd1", "한"},
		"gb18030":      {"\xd6\xd0", "中"},
		"big5":         {"\xa4\xa4", "中"},
	} {
		g := &Grid{File: "t.csv"}
		got, err := g.decode([]byte("code,s\n"+c.bytes+",3\n"), name)
		if err != nil || string(got) != "code,s\n"+c.want+",3\n" {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
	g := &Grid{File: "t.csv"}
	if _, err := g.decode([]byte("\x8e\x81\x96\xbc,3\n"), ""); err == nil || !strings.Contains(err.Error(), "shift_jis") {
		t.Errorf("an encoding that nothing names: %v", err)
	}
	if _, err := g.decode([]byte("\x8e,3\n"), "shift_jis"); err == nil || !strings.Contains(err.Error(), "Shift_JIS text") {
		t.Errorf("a letter cut in two: %v", err)
	}
}
