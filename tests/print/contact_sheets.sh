#!/bin/sh
# Every paper of the example and of five protocols of the library, in two sizes: rendered at 150 dpi in grey, to be looked at page by page, and
# as contact sheets for docs/outputs/pages.
#
# Usage: sh tests/print/contact_sheets.sh PROGRAM FOLDER
# FOLDER takes the papers and their pages; it must not exist yet. Needs poppler-utils and imagemagick.
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

# papers NAME FILE VARIANT: what lies on a desk on A4 and A5, the poster on A3 and Tabloid, the badge card by itself and laid on A4.
# A paper that the protocol has nothing for is told in FOLDER/told.
papers() {
  name=$1 file=$2 variant=$3
  set -- --only "$variant"
  [ -n "$variant" ] || set --
  for size in A4 A5; do
    "$program" print "$file" --to "$folder/$name" --paper $size --today $today "$@" >>"$folder/told" 2>&1
  done
  "$program" print "$file" --to "$folder/$name" --what poster --today $today "$@" >>"$folder/told" 2>&1
  "$program" print "$file" --to "$folder/$name" --what poster --paper Tabloid --today $today "$@" >>"$folder/told" 2>&1
  "$program" print "$file" --to "$folder/$name" --what badge --today $today "$@" >>"$folder/told" 2>&1
  "$program" print "$file" --to "$folder/$name" --what badge --up A4 --today $today "$@" >>"$folder/told" 2>&1
}

# sheet NAME SIZE WIDTH: the pages of all papers of that size side by side, in the order of their names.
sheet() {
  pages=$folder/$1/$2
  mkdir -p "$pages"
  for paper in "$folder/$1"/*-"$2".pdf "$folder/$1"/*-"$2"-draft.pdf; do
    [ -e "$paper" ] || continue
    case $2$paper in a4*-up-a4*) continue ;; esac
    pdftoppm -gray -r $dpi "$paper" "$pages/$(basename "$paper" .pdf)"
  done
  [ -n "$(ls "$pages")" ] || return 0
  mkdir "$pages/small"
  for page in "$pages"/*.pgm; do
    convert "$page" -resize "$3"x -bordercolor gray60 -border 1 "$pages/small/$(basename "$page" .pgm).png"
  done
  montage "$pages"/small/*.png -tile 12x -geometry +3+3 -background white "$pages/small.miff"
  convert "$pages/small.miff" -colorspace Gray +dither -colors 6 -strip -define png:compression-level=9 -define png:exclude-chunks=date,time \
    "$sheets/sheet-$1-$2.png"
}

all_sheets() {
  papers "$@"
  for size in a4 a5; do sheet "$1" $size 124; done
  for size in a3 tabloid id-1; do sheet "$1" $size 186; done
  sheet "$1" up-a4 186
}

all_sheets example "$root/examples/aldermoss-exit.ward" "coverall with goggles with rubber boots"
while read -r name variant; do
  (cd "$folder/sources" && { [ -e $name.ward ] || "$program" new $name >>"$folder/told"; })
  all_sheets $name "$folder/sources/$name.ward" "$variant"
done <<'PROTOCOLS'
respirator-exit gown with goggles with boot covers
respirator-entry gown with goggles with boot covers
basic-taking-off respirator with face shield
body-fluid-spill-cloth-first
central-line-insertion
PROTOCOLS
