#include "emit/document/check_words.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace stepward::emit {

namespace {

// 256 words of four to eight letters, any two at least three slips apart, none of them a word of the ward: nobody may
// mistake a check word for an instruction. The order is part of the format: a card printed years ago must give the
// same.
constexpr std::array<std::string_view, 256> plain_words = {
    "abacus",   "acorn",    "acrobat",  "admiral", "album",    "alley",    "almond",   "amber",    "anchor",
    "antenna",  "anvil",    "apple",    "apricot", "arcade",   "arrow",    "artist",   "athlete",  "attic",
    "autumn",   "avocado",  "badge",    "baker",   "balcony",  "bamboo",   "banana",   "banjo",    "barrel",
    "beacon",   "bicycle",  "biscuit",  "blossom", "bonfire",  "bonnet",   "boulder",  "bramble",  "branch",
    "breeze",   "buckle",   "buffalo",  "butter",  "cabin",    "cactus",   "camel",    "candle",   "canyon",
    "cargo",    "cashew",   "cedar",    "cello",   "cherry",   "chestnut", "chimney",  "chorus",   "cinema",
    "cinnamon", "circus",   "cloud",    "clover",  "cobalt",   "coconut",  "copper",   "cottage",  "cousin",
    "cricket",  "crown",    "crystal",  "custard", "cyclone",  "daisy",    "damson",   "dancer",   "desert",
    "diamond",  "dinosaur", "dolphin",  "domino",  "donkey",   "doorbell", "dragon",   "drizzle",  "drum",
    "duchess",  "dune",     "eagle",    "echo",    "emerald",  "emperor",  "engine",   "farmer",   "feather",
    "festival", "fiddle",   "flamingo", "flannel", "flute",    "forest",   "fortress", "fossil",   "fountain",
    "galaxy",   "gallop",   "garden",   "garlic",  "geyser",   "ginger",   "giraffe",  "glacier",  "goblet",
    "gondola",  "goose",    "granite",  "grape",   "guitar",   "hammock",  "harbour",  "harvest",  "heron",
    "hickory",  "holly",    "horizon",  "hyena",   "iceberg",  "igloo",    "indigo",   "inkwell",  "insect",
    "island",   "ivory",    "jaguar",   "jasmine", "jigsaw",   "juggler",  "juniper",  "kangaroo", "kayak",
    "kernel",   "kettle",   "kingdom",  "koala",   "ladder",   "lagoon",   "lantern",  "lava",     "leopard",
    "lettuce",  "lilac",    "lobster",  "locket",  "lotus",    "lullaby",  "magnet",   "magpie",   "marble",
    "marigold", "meadow",   "midnight", "mimosa",  "minstrel", "mosaic",   "moss",     "muffin",   "nectar",
    "nightjar", "nugget",   "nutmeg",   "oasis",   "octopus",  "olive",    "onion",    "opal",     "orange",
    "orbit",    "orchard",  "organ",    "ostrich", "palace",   "panther",  "paprika",  "peach",    "pebble",
    "pelican",  "pencil",   "penguin",  "piano",   "pigeon",   "pillow",   "planet",   "poppy",    "pottery",
    "prairie",  "pumpkin",  "puppet",   "puzzle",  "python",   "quarry",   "quilt",    "quiver",   "rabbit",
    "radio",    "rainbow",  "raisin",   "raven",   "reindeer", "rhubarb",  "ribbon",   "saffron",  "sandal",
    "sapphire", "scooter",  "shovel",   "silver",  "skylark",  "snowman",  "sparkle",  "spiral",   "squirrel",
    "stable",   "starling", "sugar",    "sunset",  "swallow",  "sycamore", "tadpole",  "talon",    "tapestry",
    "teapot",   "temple",   "tennis",   "thistle", "thunder",  "toboggan", "toffee",   "tomato",   "tractor",
    "treasure", "trumpet",  "tulip",    "tunnel",  "turtle",   "tuxedo",   "umbrella", "unicorn",  "vanilla",
    "velvet",   "village",  "vineyard", "violet",  "volcano",  "waffle",   "walnut",   "wardrobe", "woodland",
    "yacht",    "yogurt",   "zebra",    "zigzag"};

constexpr std::string_view between = " – ";
constexpr std::size_t words_of_copy = 4;

bool is_plain_word(std::string_view word) { return std::find(plain_words.begin(), plain_words.end(), word) != plain_words.end(); }

std::size_t end_of_letters(std::string_view text, std::size_t from) {
  while (from < text.size() && text[from] >= 'a' && text[from] <= 'z') ++from;
  return from;
}

/// Behind the fourth word, where check words begin at `from`; else `from`.
std::size_t end_of_check_words(std::string_view text, std::size_t from) {
  std::size_t at = from;
  for (std::size_t word = 0; word < words_of_copy; ++word) {
    if (word > 0 && text.substr(at, between.size()) != between) return from;
    const std::size_t begin = word > 0 ? at + between.size() : at;
    at = end_of_letters(text, begin);
    if (!is_plain_word(text.substr(begin, at - begin))) return from;
  }
  return at;
}

}  // namespace

std::vector<std::pair<std::size_t, std::size_t>> check_words_in(std::string_view text) {
  std::vector<std::pair<std::size_t, std::size_t>> all;
  std::size_t done = 0;
  for (std::size_t dash = text.find(between); dash != std::string_view::npos; dash = text.find(between, dash + 1)) {
    std::size_t begin = dash;
    while (begin > done && text[begin - 1] >= 'a' && text[begin - 1] <= 'z') --begin;
    const std::size_t end = begin < dash ? end_of_check_words(text, begin) : begin;
    if (end == begin) continue;
    all.emplace_back(begin, end);
    done = dash = end - 1;
  }
  return all;
}

std::string_view check_word(std::uint8_t number) { return plain_words[number]; }

std::string check_words(const Digest& digest) {
  std::string text;
  for (std::size_t i = 0; i < words_of_copy; ++i) {
    if (i > 0) text += between;
    text += plain_words[digest[i]];
  }
  return text;
}

void stamp(Sheet& sheet) {
  const Digest digest = sha256(plain_text(sheet));
  sheet.control.check_words = check_words(digest);
  sheet.control.code = sheet.control.number + " " + sheet.control.version + " " + short_hash(digest);
}

}  // namespace stepward::emit
