#!/bin/sh
# Mixtures from the command line. The published recipes and their sources are in tests/published/arithmetic_test.cpp.
. "$(dirname "$0")/lib.sh"

# The way to a strength: parts for a liquid, grams for a powder, a volume for a tablet.
runs 0 "0.5 percent, 5 000 ppm" "mix 1 part with 6 parts" "1 429 ml of the stock, filled up to 10 litres" -- mix --from "3.5 percent" --wanted "0.5 percent" --for "10 litres"
runs 0 "dissolve 14.2857 g in 1 litre" "142.9 g of the powder, dissolved in 10 litres" -- mix --from "35 percent powder" --wanted "0.5 percent" --for "10 litres"
runs 0 "dissolve 1 tablet in 2 litres" "5 of the tablets, dissolved in 10 litres" -- mix --from "1 g active each" --wanted "500 ppm" --for "10 litres"
runs 0 "4.5 of the tablets" "take a volume that whole tablets make" -- mix --from "1 g active each" --wanted "500 ppm" --for "9 litres"
runs 1 "the stock is too weak: 50 000 ppm cannot give 60 000 ppm" -- mix --from "5 percent" --wanted "6 percent"
runs 1 "there is nothing to mix" -- mix --from "5 percent" --wanted "5 percent"
runs 0 "The product's label, the local policy and the pharmacy decide." -- mix --from "5 percent" --wanted "1 percent"

# What a recipe gives, and what others take it for.
runs 0 "gives     2 percent, 20 000 ppm: as wanted" "add 400 ml to 1 litre gives 1.429 percent, 14 286 ppm: 29 percent weaker than wanted" -- \
  mix --recipe "fill 400 ml to 1 litre" --from "5 percent" --wanted "2 percent"
runs 1 "29 percent weaker than wanted" "right     mix 1 part with 1.5 parts" -- mix --recipe "add 400 ml to 1 litre" --from "5 percent" --wanted "2 percent"
runs 0 "5 percent stronger than wanted, as rounded recipes are" -- mix --recipe "dissolve 7.5 g in 1 litre" --from "70 percent powder" --wanted "0.5 percent"
runs 1 "74 percent stronger than wanted" -- mix --recipe "dissolve 4 tablets in 1 litre" --from "8.68 g active each" --wanted "2 percent"
runs 1 "the stock is weaker than what is wanted" -- mix --recipe "1 part with 1 part" --from "5 percent" --wanted "6 percent"
runs 0 "gives     0.5 percent, 5 000 ppm" -- mix --recipe "1 part with 9 parts" --from "5 percent"

# What cannot be reckoned with is refused in plain words.
runs 1 '"1:10" can be read two ways' "1 part with 9 parts gives 5 000 ppm; 1 part with 10 parts gives 4 545 ppm" -- mix --recipe "1:10" --from "5 percent"
runs 1 "nobody can tell how much one spoon is" "fix   add 14 spoons of 15 ml to 20 litres" -- mix --recipe "add 14 spoons to 20 litres" --from "5 percent" --wanted "520 ppm"
runs 1 "0 cannot be reckoned with here" -- mix --recipe "1 part with 0 parts" --from "5 percent"
runs 1 "\"-\" has no meaning here" -- mix --recipe "-1 part with 9 parts" --from "5 percent"
runs 2 "--for is a volume" -- mix --from "5 percent" --wanted "1 percent" --for "a bucket"
runs 2 "say what it is made from" -- mix --wanted "1 percent"
runs 2 "say what is wanted" -- mix --from "5 percent"

# The mixtures of a file, and how old one of them is.
cat >ours.ward <<'WARD'
stepward 1 library

document
  title      "Our chlorine"
  number     OUR-1
  version    1.0
  status     draft
  written by "Quill Marrable", "pharmacy"
end document

use library standard "disinfectants"
stock for strong chlorine is powder "pool grains" at 70 percent
WARD
runs 0 "strong chlorine: 0.5 percent, 5 000 ppm" "dissolve 7.14286 g in 1 litre" "mild chlorine: 0.05 percent, 500 ppm" "mix 1 part with 69 parts" -- mix ours.ward
runs 0 "71.43 g of pool grains, dissolved in 10 litres" -- mix ours.ward --agent "strong chlorine" --for "10 litres"
runs 0 "age       24 h 00 min at 2031-03-15 08:00" -- mix ours.ward --agent "strong chlorine" --made "2031-03-14 08:00" --now "2031-03-15 08:00"
runs 1 "24 h 01 min at 2031-03-15 08:01: too old. Pour it away and mix a new one." -- mix ours.ward --agent "strong chlorine" --made "2031-03-14 08:00" --now "2031-03-15 08:01"
runs 2 "say which of the mixtures" -- mix ours.ward --made "2031-03-14 08:00" --now "2031-03-15 08:00"
runs 2 "cannot have been made" -- mix ours.ward --agent "strong chlorine" --made "2031-03-16 08:00" --now "2031-03-15 08:00"
runs 2 "are moments such as" -- mix ours.ward --agent "strong chlorine" --made "2031-02-30 08:00" --now "2031-03-15 08:00"
runs 2 'mixes nothing called "bleach"' -- mix ours.ward --agent bleach
runs 3 "no such file" -- mix none.ward
sed -i 's/pool grains" at 70/pool grains" at 0.3/' ours.ward
runs 1 "error T703 ours.ward" "pool grains is too weak: 3 000 ppm cannot give 5 000 ppm" -- mix ours.ward
finished
