package datasets

import "tyro/datasets/internal/pattern"

// A hint says what to do about a cell that looks like a number and is none.
type hint struct {
	cell *pattern.Pattern
	way  string
}

// hints are looked at in order.
var hints = []hint{
	{pattern.New(`^(\||[|/\\IlⅠ]{2,})$`), "where these are ticks write their number"},
	{pattern.New(`^[★☆✩✭*•●○]+$`), "where these are counted write their number"},
	{pattern.New(`^\d+[.,]?\d*\s*\+\s*\d+[.,]?\d*$`), "of two numbers write the sum where that is meant, or each into a column of its own"},
	{pattern.New(`^\d+:[\d.,:]+\s*[/|;&]\s*\d+:[\d.,:]+$`), "two readings go into columns of their own, or write the one that counts"},
	{pattern.New(`^:\d{1,2}([.,]\d+)?$`), "write 0:31 for :31 where no minute passed; where others have one it may be lost"},
	{pattern.New(`^#{2,}$`), "a spreadsheet shows this where a column is too narrow: widen it and save the table again"},
	{pattern.New(`^\d+[.,]{2,}\d+$`), "two marks stand between digits: write one"},
	{pattern.New(`^[\dOoIl]*(\d[OoIl]|[OoIl]\d)[\dOoIl]*([.,][\dOoIl]+)?$`), "a letter may stand where a digit belongs: write 104 for 1O4"},
	{pattern.New(`^\d+[.,]?\d*\s*/\s*\d+[.,]?\d*$`), "of two numbers with a bar write the first where the second is the same everywhere, else bring them to one scale; two readings go into columns of their own"},
	{pattern.New(`^\d+\s*[-–]\s*\d+$`), "of a range write one number, or leave the cell blank"},
	{pattern.New(`^\(\s*\d+[.,]?\d*\s*\)$`), "write -3 for (3) where brackets mean less than nothing"},
	{pattern.New(`^\d[\d.,:]*\s*[(\[].+[)\]]$`), "write what stands in brackets into a column of its own"},
	{pattern.New(`(?i)^(ca\.?|circa|about|approx\.?|etwa|env\.?|environ|aprox\.?|~|≈)\s*\d|^\d[\d.,:]*\s*\?+$`), "write the number alone, and that it is not exact into a column of its own"},
	{pattern.New(`^\d[\d.,:]*\s*[*†‡#§¹²³]+$`), "write the mark into a column of its own, and what it means beside it"},
	{pattern.New(`(?i)^\d{1,2}(st|nd|rd|th)?[ .\-/]*(jan|feb|mar|mär|mrz|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)[a-z]*\.?$|^(jan|feb|mar|mär|mrz|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)[a-z]*\.?[ \-]*\d{1,4}$`), "a spreadsheet may have made a day of it: make its cells text and type the numbers anew"},
	{pattern.New(`(?i)^\d{1,2}:\d{2}(:\d{2})?\s*[ap]\.?m\.?$`), "a spreadsheet may show how long it took as a time of day: give the cells a format such as [h]:mm:ss and save the table again"},
	{pattern.New(`^\d{1,3}:[6-9]\d([.,]\d+)?$`), "seconds behind a colon are below 60: write 83 s for 0:83"},
	{pattern.New(`(?i)^(no|none|zero|one|two|three|four|five|six|seven|eight|nine|ten|null|eins?|zwei|drei|vier|fünf|sechs|sieben|acht|neun|zehn|aucun|une?|deux|trois|quatre|cinq|ningun[oa]?|un[oa]|dos|tres|cuatro|cinco)$`), "write numbers in digits"},
	{pattern.New(`^\d[\d.,]*\s*(±|\+/-|\+-)`), "write the number alone, and what it may be off into a column of its own"},
	{pattern.New(`[½¼¾]`), "write 3.5 for 3½"},
}

// wayFor is what to do about a cell; blank where nothing is known.
func wayFor(cell string) string {
	for _, h := range hints {
		if h.cell.MatchString(cell) {
			return h.way
		}
	}
	return ""
}
