#!/bin/sh
# Joins the parts: sh merge.sh [flags of tyro merge, such as --format json or --out answer.json].
cd {{.Here}} || exit
exec "${TYRO:-tyro}" merge {{.Parts}} "$@"
