#include "emit/document/check_words.hpp"

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

}  // namespace

std::string_view check_word(std::uint8_t number) { return plain_words[number]; }

std::string check_words(const Digest& digest) {
  std::string text;
  for (std::size_t i = 0; i < 4; ++i) {
    if (i > 0) text += " – ";
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
