package main

// ratings are tables of ratings, whose truth is "subject rater item score".
func ratings() {
	flags := "agreement"
	long := "subject,rater,score\nP1,Ash,4\nP1,Birch,5\nP2,Ash,3\nP2,Birch,3\n"
	truth := "P1 Ash score 4; P1 Birch score 5; P2 Ash score 3; P2 Birch score 3"
	add("ratings-long.csv", flags, text(long), truth)
	add("ratings-wide.csv", flags+" --wide", text("subject,Ash,Birch\nP1,4,5\nP2,3,3\n"), truth)
	warn("ratings-mean.csv", flags+" --wide", text("subject,Ash,Birch,Mean\nP1,4,5,4.5\nP2,3,3,3\n"), "column-not-rater", truth)
	warn("ratings-trainee-number.csv", flags+" --wide", text("subject,trainee,Ash,Birch\nP1,1,4,5\nP2,2,3,3\n"), "column-not-rater", truth)
	refuse("ratings-counter.csv", flags+" --wide", text("subject,lfd,Ash,Birch\nP1,1,4,5\nP2,2,3,3\nP3,3,2,2\nP4,4,1,1\nP5,5,4,4\n"), "--ignore lfd")
	add("ratings-counter-ignored.csv", flags+" --wide --ignore lfd", text("subject,lfd,Ash,Birch\nP1,1,4,5\nP2,2,3,3\n"), truth)
	warn("ratings-missing.csv", flags, text("subject,rater,score\nP1,Ash,4\nP1,Birch,5\nP2,Ash,3\nP2,Birch,NA\n"), "missing-words", "P1 Ash score 4; P1 Birch score 5; P2 Ash score 3")
	refuse("ratings-word.csv", flags, text("subject,rater,score\nP1,Ash,4\nP1,Birch,5\nP2,Ash,3\nP2,Birch,absent\n"), "a number, as most ratings")
	warn("ratings-yes.csv", flags, text("subject,rater,score\nP1,Ash,yes\nP1,Birch,Yes\nP2,Ash,no\nP2,Birch,no\n"), "similar-codes", "P1 Ash score yes; P1 Birch score Yes; P2 Ash score no; P2 Birch score no")
	add("ratings-yes-joined.csv", flags+" --same Yes=yes", text("subject,rater,score\nP1,Ash,yes\nP1,Birch,Yes\nP2,Ash,no\nP2,Birch,no\n"), "P1 Ash score yes; P1 Birch score yes; P2 Ash score no; P2 Birch score no")
	warn("ratings-rater-case.csv", flags, text("subject,rater,score\nP1,Ash,4\nP1,Birch,5\nP2,ash,3\nP2,Birch,3\n"), "similar-codes", "P1 Ash score 4; P1 Birch score 5; P2 ash score 3; P2 Birch score 3")
	add("ratings-commas.csv", flags, text("subject;rater;score\nP1;Ash;4,5\nP1;Birch;5\nP2;Ash;3\nP2;Birch;3,5\n"), "P1 Ash score 4.5; P1 Birch score 5; P2 Ash score 3; P2 Birch score 3.5")
	refuse("ratings-twice.csv", flags, text("subject,rater,score\nP1,Ash,4\nP1,Ash,5\n"), "one rating of subject P1 by Ash")
}
