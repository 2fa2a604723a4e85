#!/bin/sh
# Every paper of the example and of five protocols of the library, in two sizes: rendered at 150 dpi in grey, to be looked at page by page, and
# as contact sheets for docs/outputs/pages.
#
# Usage: sh tests/print/contact_sheets.sh PROGRAM FOLDER
# FOLDER takes the papers and their pages (about 120 MB); it must not exist yet. Needs poppler-utils and imagemagick.
# Grey on purpose: what needs colour to be read is a fault.
set -eu
program=$(readlink -f "$1")
folder=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
sheets=$root/docs/outputs/pages
today=2030-11-01
dpi=150
mkdir "$folder" "$folder/sources"
folder=$(cd "$folder" && pwd)
mkdir -p "$sheets"

# print_two_sizes NAME FILE ONLY: what lies on a desk on A4 and A5, the poster on A3 and Tabloid, the badge card by itself and laid on A4.
print_two_sizes() {
  set -- "$1" "$2" ${3:+--only "$3"}
  name=$1 file=$2
  shift 2
  for paper in A4 A5; do
    "$program" print "$file" --to "$folder/$name" --paper $paper --today $today "$@" >>"$folder/told" 2>&1
  done
  "$program" print "$file" --to "$folder/$name" --what poster --today $today "$@" >>"$folder/told" 2>&1 || true
  "$program" print "$file" --to "$folder/$name" --what poster --paper Tabloid --today $today "$@" >>"$folder/told" 2>&1 || true
  "$program" print "$file" --to "$folder/$name" --what badge --today $today "$@" >>"$folder/told" 2>&1 || true
  "$program" print "$file" --to "$folder/$name" --what badge --up A4 --today $today "$@" >>"$folder/told" 2>&1 || true
}

# sheet NAME SIZE WIDTH: the pages of all papers of that size side by side, in the order of their names.
sheet() {
  mkdir -p "$folder/$1/$2"
  for paper in "$folder/$1"/*-"$2".pdf "$folder/$1"/*-"$2"-draft.pdf; do
    [ -e "$paper" ] || continue
    pdftoppm -gray -r $dpi -png "$paper" "$folder/$1/$2/$(basename "$paper" .pdf)"
  done
  [ -n "$(ls "$folder/$1/$2")" ] || return 0
  convert -define png:compression-level=9 "$folder/$1/$2"/*.png -resize "$3"x -bordercolor gray60 -border 1 miff:- |
    montage miff:- -tile 12x -geometry +3+3 -background white miff:- |
    convert miff:- -colorspace Gray -colors 8 -strip -define png:compression-level=9 -define png:exclude-chunks=date,time "$sheets/sheet-$1-$2.png"
}

print_two_sizes example "$root/examples/aldermoss-exit.ward" "coverall with goggles with rubber boots"
for name in respirator-exit respirator-entry basic-taking-off body-fluid-spill-cloth-first central-line-insertion; do
  (cd "$folder/sources" && "$program" new $name >>"$folder/told")
  "$program" check "$folder/sources/$name.ward" --today $today >"$folder/check" 2>&1 || true
  # One variant: the last one that there is.
  only=$("$program" print "$folder/sources/$name.ward" --to "$folder/all" --what card --as xhtml --today $today | true)
  print_two_sizes $name "$folder/sources/$name.ward" ""
  echo "$name: variants up to $only"
done
