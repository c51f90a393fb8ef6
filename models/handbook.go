package models

import "math"

// Coefficients of the learning-curve tables in operations handbooks, for a curve on
// which every doubling takes the same percentage of what the attempt (or the
// average) took before. Times are in units of the first attempt's. There are two
// readings of "80 % curve" and they differ: the unit curve of Crawford, where the
// time of attempt n is n^b, and the cumulative average curve of Wright (1936), where
// the mean time of attempts 1 to n is n^b.

// DoublingExponent is b with n^b falling to percent of its value at each doubling:
// log2(percent/100), and minus the rate of a [Wright] curve.
func DoublingExponent(percent float64) float64 { return math.Log2(percent / 100) }

// DoublingPercent is the percentage of the previous level that each doubling of
// attempts leaves on a log-log line with the given rate.
func DoublingPercent(rate float64) float64 { return 100 * math.Exp2(-rate) }

// A HandbookRow is the table's line for one attempt.
type HandbookRow struct {
	Unit  int // attempt n
	Time  float64
	Total float64 // of attempts 1 to n
	Mean  float64 // of attempts 1 to n
}

// UnitTable lists the first n attempts on the unit (Crawford) curve.
func UnitTable(percent float64, n int) []HandbookRow {
	b := DoublingExponent(percent)
	rows := make([]HandbookRow, n)
	total, lost := 0.0, 0.0
	for i := range rows {
		t := math.Pow(float64(i+1), b)
		// Kahan's summation: the total of thousands of attempts keeps its digits.
		y := t - lost
		next := total + y
		lost = (next - total) - y
		total = next
		rows[i] = HandbookRow{i + 1, t, total, total / float64(i+1)}
	}
	return rows
}

// AverageTable lists the first n attempts on the cumulative average (Wright)
// curve.
func AverageTable(percent float64, n int) []HandbookRow {
	b := DoublingExponent(percent)
	rows := make([]HandbookRow, n)
	before := 0.0
	for i := range rows {
		k := float64(i + 1)
		total := math.Pow(k, b+1)
		rows[i] = HandbookRow{i + 1, total - before, total, total / k}
		before = total
	}
	return rows
}
