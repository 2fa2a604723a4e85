#pragma once
// The commands: what each was asked, and the function that does it. One file a command.

#include <optional>
#include <string>
#include <vector>

#include "driver/host.hpp"

namespace stepward::driver {

struct CheckRequest {
  std::vector<std::string> files;
  enum class Format : std::uint8_t { text, json, sarif } format = Format::text;
  std::string output;          ///< empty: standard output
  std::string depfile;         ///< where to write what was read, for a build engine; empty: nowhere
  std::string only;
  std::string today;           ///< empty: the clock's
  std::string witness;         ///< a rule's number, or "all"
  bool interruptions = true;
  std::uint64_t limit = 20'000'000;
  bool timings = false;
  Colour colour = Colour::automatic;
};
Outcome check_command(const CheckRequest& request, const Host& host);

struct PrintRequest {
  std::string file;
  std::string folder;
  std::vector<std::string> what;   ///< names of papers; empty: all
  std::string paper;               ///< a size; empty: each paper on its own
  std::string up;                  ///< a size: several faces on each sheet of it; empty: one face on each
  std::vector<std::string> formats = {"pdf"};  ///< of `paper_formats()`
  std::string only;
  std::string today;
  std::string language;        ///< empty: as it was written
  bool draft = false;
  bool overwrite = false;      ///< papers that were printed for a later day, too
};
Outcome print_command(const PrintRequest& request, const Host& host);

struct FreshRequest {
  std::string words;           ///< check words, or the text of a square code
  std::string file;
  std::vector<std::string> before;  ///< older sources
  std::string today;
  bool as_json = false;
  bool copies = false;         ///< instead of one paper, all that the register lists
};
Outcome fresh_command(const FreshRequest& request, const Host& host);

struct GraphRequest {
  std::string file;
  std::vector<std::string> formats = {"json"};  ///< of `graph_format_names()`
  std::string output;          ///< the file of the one format; empty: standard output
  std::string folder;          ///< where each format gets a file of its own; empty: there is one format only
  std::string depfile;         ///< where to write what was read, for a build engine; empty: nowhere
  std::string sheet;           ///< of `chart_sheet_names()`: svg is cut to pages of it; empty: one sheet
  std::string only;
  bool walk = false;           ///< mark the ways that no run takes
};
Outcome graph_command(const GraphRequest& request, const Host& host);

struct SlipsRequest {
  std::string file;
  enum class Format : std::uint8_t { text, csv, json } format = Format::text;
  std::string output;          ///< empty: standard output
  std::string today;           ///< empty: the clock's
  std::string only;
  enum class Form : std::uint8_t { slips, hfmea, iec_60812 } form = Form::slips;
  unsigned at_once = 1;        ///< slips of one run
  bool interruptions = false;
  std::uint64_t limit = 20'000'000;
  std::string numbers;         ///< a published set; empty: no numbers
  std::vector<std::string> figures;  ///< the author's own: "NAME=VALUE" or "NAME=VALUE/ERROR FACTOR"
  std::string dependence = "moderate", stress = "optimum", experience = "skilled";
  std::optional<double> something_to_see;
  std::string against;         ///< an older draft; empty: none
};
Outcome slips_command(const SlipsRequest& request, const Host& host);

struct MendRequest {
  std::string file;
  std::string today;           ///< empty: the clock's
  std::size_t limit = 600;     ///< changes to try
  bool as_json = false;
};
Outcome mend_command(const MendRequest& request, const Host& host);

struct OrderRequest {
  std::string file;
  std::string today;           ///< empty: the clock's
  bool as_json = false;
};
Outcome order_command(const OrderRequest& request, const Host& host);

struct ExplainRequest { std::string code; };
Outcome explain_command(const ExplainRequest& request);

struct DumpRequest {
  std::string file;
  std::string stage;
  std::string only;
};
Outcome dump_command(const DumpRequest& request);

struct WordsRequest {
  std::string file;
  std::string language;
  std::string output;          ///< empty: standard output
};
Outcome words_command(const WordsRequest& request, const Host& host);

struct MixRequest {
  std::string file;            ///< whose mixtures are shown; empty: what follows is asked
  std::string agent;           ///< one of them, by name
  std::string recipe;          ///< as it is written on a label: "1 part with 9 parts", "add 400 ml to 1 litre"
  std::string from;            ///< "5 percent", "70 percent powder", "1 g active each"
  std::string wanted;          ///< "0.5 percent", "5000 ppm"
  std::string volume;          ///< "10 litres"
  std::string made, now;       ///< moments, "2031-03-14 08:00"; `now` empty: the clock's
};
Outcome mix_command(const MixRequest& request, const Host& host);

struct NewRequest {
  std::string name;            ///< of a protocol of the library; empty: they are listed
  std::string folder;          ///< empty: here
  std::string title, number;   ///< of the new document; empty: the library's title, a provisional number
};
Outcome new_command(const NewRequest& request);

struct LibraryRequest {
  std::string name;
  bool sources = false;        ///< instead of its text, where each of its statements comes from
};
Outcome library_command(const LibraryRequest& request);

struct TidyRequest {
  std::vector<std::string> files;  ///< "-" is standard input
  bool only_look = false;          ///< name what is not tidy, and change nothing
  bool print = false;              ///< to standard output instead of back in place
};
Outcome tidy_command(const TidyRequest& request);

}  // namespace stepward::driver
