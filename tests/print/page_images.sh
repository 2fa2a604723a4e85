#!/bin/sh
# Makes the pictures of docs/outputs/pages anew: sh tests/print/page_images.sh PROGRAM
# Needs poppler-utils, chromium and imagemagick.
# Grey on purpose: a card that needs colour to be read is a fault, and these are what one looks at before a release.
set -eu
program=$1
root=$(cd "$(dirname "$0")/../.." && pwd)
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
for paper in A4; do
  "$program" print "$root/examples/aldermoss-exit.ward" --to "$folder" --what card,script --paper $paper \
    --only "coverall with goggles with rubber boots" --today 2030-11-01 >/dev/null
done
"$program" print "$root/examples/aldermoss-exit.ward" --to "$folder" --what breach,kit,competency,dilution,sign-off \
  --only "coverall with goggles with rubber boots" --today 2030-11-01 >/dev/null
"$program" print "$root/examples/aldermoss-exit.ward" --to "$folder" --what poster,badge \
  --only "coverall with goggles with rubber boots" --today 2030-11-01 >/dev/null
"$program" print "$root/examples/aldermoss-exit.ward" --to "$folder" --what badge --up A4 \
  --only "coverall with goggles with rubber boots" --today 2030-11-01 >/dev/null
"$program" print "$root/examples/aldermoss-exit.ward" --to "$folder" --what card,script --language Spanish \
  --only "coverall with goggles with rubber boots" --today 2030-11-01 >/dev/null
find "$root/docs/outputs/pages" -name "*.png" ! -name "sheet-*" -delete
mkdir -p "$root/docs/outputs/pages"
for what in breach kit competency dilution sign-off; do
  pdftoppm -gray -r 64 -l 4 -png "$folder"/*-$what-a4.pdf "$root/docs/outputs/pages/$what-a4"
done
pdftoppm -gray -r 45 -png "$folder"/*-poster-a3.pdf "$root/docs/outputs/pages/poster-a3"
pdftoppm -gray -r 150 -l 4 -png "$folder"/*-badge-id-1.pdf "$root/docs/outputs/pages/badge-id-1"
pdftoppm -gray -r 64 -png "$folder"/*-badge-id-1-up-a4.pdf "$root/docs/outputs/pages/badge-id-1-up-a4"
for what in card script; do
  # Whole papers, and other sizes, are on the contact sheets.
  pdftoppm -gray -r 64 -l 6 -png "$folder"/*-$what-a4.pdf "$root/docs/outputs/pages/$what-a4"
  pdftoppm -gray -r 64 -l 3 -png "$folder"/*-$what-a4-spanish.pdf "$root/docs/outputs/pages/$what-spanish"
done

# The same papers as web pages, on a phone and on a wide screen. Chromium's own files go into an empty folder.
"$program" print "$root/examples/aldermoss-exit.ward" --to "$folder/screen" --as xhtml --what card,script \
  --only "coverall with goggles with rubber boots" --today 2030-11-01 >/dev/null
shot() {
  chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking --disable-component-update \
    --disable-sync --user-data-dir="$folder/chromium" --hide-scrollbars --window-size="$2" --screenshot="$folder/shot.png" "file://$1" >/dev/null 2>&1
  convert "$folder/shot.png" -colorspace Gray -strip -define png:exclude-chunks=date,time "$root/docs/outputs/pages/$3.png"
}
for what in card script; do
  page=$(echo "$folder"/screen/*-$what-a4.html)
  shot "$page" 360,780 $what-phone
  shot "$page" 1100,900 $what-screen
done
