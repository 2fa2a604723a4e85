#include "driver/command_line.hpp"

#include <algorithm>
#include <array>
#include <functional>

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/text.hpp"
#include "driver/commands.hpp"
#include "driver/dossiers.hpp"
#include "driver/graph_formats.hpp"
#include "driver/paper_formats.hpp"
#include "driver/paper_sizes.hpp"
#include "driver/papers.hpp"

namespace stepward::driver {
namespace {

constexpr std::array<const char*, 15> commands = {"check", "mend", "order", "print", "fresh", "new", "graph", "slips", "mix", "tidy", "words", "explain", "dump", "library", "help"};
constexpr std::array<const char*, 1> later_commands = {"compare"};

template <class List>
bool holds(const List& list, const std::string& word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

std::string nearest_command(const std::string& typed) {
  std::string best;
  std::size_t least = 3;
  for (const char* command : commands) {
    const std::size_t distance = text::edit_distance(typed, command);
    if (distance < least) {
      least = distance;
      best = command;
    }
  }
  return best;
}

/// A first word that is no command, answered in plain words instead of CLI11's.
Outcome unknown_command(const std::string& word) {
  if (holds(later_commands, word)) return refusal(ExitCode::wrong_use, fmt::format("\"{}\" is not in this version yet", word));
  const std::string nearest = nearest_command(word);
  const bool is_file = word.size() > 5 && word.compare(word.size() - 5, 5, ".ward") == 0;
  if (is_file) return refusal(ExitCode::wrong_use, fmt::format("say what to do with it: stepward check {}", word));
  return refusal(ExitCode::wrong_use, nearest.empty()
                                          ? fmt::format("there is no command \"{}\"; \"stepward --help\" lists them", word)
                                          : fmt::format("there is no command \"{}\"; did you mean \"{}\"?", word, nearest));
}

std::string date_or_why(const std::string& text) {
  return is_date(text) ? "" : "\"" + text + "\" is not a day written YYYY-MM-DD";
}

/// All commands on one CLI11 parser. A request lives here until its command runs.
class CommandLine {
 public:
  explicit CommandLine(const Host& host) : host_(host), app_("Stepward checks protocols for putting on and taking off protective equipment.", "stepward") {
    app_.set_version_flag("--version", "stepward " STEPWARD_VERSION);
    app_.require_subcommand(1);
    app_.footer("Example:\n  stepward check ward-exit.ward\n\nExit codes: 0 nothing that must be mended, 1 errors found, 2 wrong use,\n"
                "3 a file cannot be read or written, 70 a fault of the program.");
    add_check();
    add_mend();
    add_order();
    add_print();
    add_fresh();
    add_new();
    add_graph();
    add_slips();
    add_mix();
    add_tidy();
    add_words();
    add_explain();
    add_dump();
    add_library();
  }

  Outcome run(std::vector<std::string> arguments) {
    std::reverse(arguments.begin(), arguments.end());  // CLI11 takes them from the back
    try {
      app_.parse(std::move(arguments));
    } catch (const CLI::CallForHelp&) {
      return {ExitCode::fine, help(), ""};
    } catch (const CLI::CallForVersion&) {
      return {ExitCode::fine, "stepward " STEPWARD_VERSION "\n", ""};
    } catch (const CLI::ParseError& wrong) {
      return refusal(ExitCode::wrong_use, fmt::format("{}\n\"stepward {}--help\" shows how", plain(wrong.what()), chosen_name()));
    }
    return chosen_();
  }

 private:
  void add_check() {
    CLI::App* command = app_.add_subcommand("check", "Find everything that can go wrong on any run");
    command->add_option("FILE", check_.files, "Protocols, libraries or rules")->required();
    command->add_option_function<std::string>("--format", [this](const std::string& format) {
      check_.format = format == "json" ? CheckRequest::Format::json : format == "sarif" ? CheckRequest::Format::sarif : CheckRequest::Format::text;
    }, "text, json or sarif")->check(CLI::IsMember({"text", "json", "sarif"}));
    command->add_option("-o,--output", check_.output, "The file to write; without it, standard output");
    command->add_option("--depfile", check_.depfile, "Write there which files were read, as a rule of make, for a build engine");
    add_only(command, check_.only);
    add_today(command, check_.today);
    command->add_flag("!--no-interruptions", check_.interruptions, "Leave out what may happen at any time");
    command->add_option("--limit", check_.limit, "States of one variant's walk before it is given up")->check(CLI::PositiveNumber);
    command->add_option("--witness", check_.witness, "A rule, or \"all\": show the shortest run on which it matters");
    command->add_flag("--timings", check_.timings, "Say how long each stage took");
    command->add_option_function<std::string>("--color,--colour", [this](const std::string& when) {
      check_.colour = when == "always" ? Colour::always : when == "never" ? Colour::never : Colour::automatic;
    }, "auto, always or never")->check(CLI::IsMember({"auto", "always", "never"}));
    command->footer("Example:\n  stepward check ward-exit.ward --today 2031-03-15\n  finds what can go wrong on any run, as on that day\n\n"
                    "Several files are checked side by side; --format json then gives an array, sarif a run for each.");
    command->callback([this] { chosen_ = [this] { return check_command(check_, host_); }; });
  }

  void add_order() {
    CLI::App* command = app_.add_subcommand("order", "Show the order found for lines that may change places, and why others are not allowed");
    command->add_option("FILE", order_.file, "A protocol with \"in any safe order\"")->required();
    command->add_option_function<std::string>("--format", [this](const std::string& format) { order_.as_json = format == "json"; }, "text or json")
        ->check(CLI::IsMember({"text", "json"}));
    add_today(command, order_.today);
    command->footer("Example:\n  stepward order ward-exit.ward\n"
                    "It shows which of the orders that your rules allow was taken, how many others there are, and which rule the rest break.\n"
                    "An order is what the rules and the declared touches, covers and places allow, and no advice.\n"
                    "Exit code 0: every block has an order, or there is none. 1: some block has no order that keeps everything.");
    command->callback([this] { chosen_ = [this] { return order_command(order_, host_); }; });
  }

  void add_mend() {
    CLI::App* command = app_.add_subcommand("mend", "Show the smallest changes of steps that clear the errors, and change nothing");
    command->add_option("FILE", mend_.file, "A protocol")->required();
    command->add_option_function<std::string>("--format", [this](const std::string& format) { mend_.as_json = format == "json"; }, "text or json")
        ->check(CLI::IsMember({"text", "json"}));
    command->add_option("--limit", mend_.limit, "Changes that are tried before it gives up; without it, 600")->check(CLI::PositiveNumber);
    add_today(command, mend_.today);
    command->footer("Example:\n  stepward mend ward-exit.ward\n"
                    "  shows up to three ways to clear what \"check\" found: the lines to write, where, and what they cost\n\n"
                    "Each of them was walked on every path of every variant. A mend adds, moves or branches; it takes no line, look,\n"
                    "question or rule away, and no file is changed: somebody who may decide it writes the lines, or does not.\n"
                    "Exit code 0: a mend was found, or nothing has to be mended. 1: errors remain.");
    command->callback([this] { chosen_ = [this] { return mend_command(mend_, host_); }; });
  }

  void add_print() {
    CLI::App* command = app_.add_subcommand("print", "Check, then write cards, scripts and other papers, as PDF or as web pages");
    command->add_option("FILE", print_.file, "A protocol")->required();
    command->add_option("--to", print_.folder, "The folder to write to; it is made if it is not there")->required();
    command->add_option("--what", print_.what, fmt::format("Which papers, by comma: {}; without it, all of these. Only by name: {}, for who reviews the protocol", fmt::join(paper_names(), ", "), dossier_name))->delimiter(',');
    const CLI::IsMember sizes(paper_size_names(), CLI::ignore_case);
    command->add_option("--paper", print_.paper, fmt::format("{}; without it, posters on A3, badge cards on ID-1, all others on A4", fmt::join(paper_size_names(), ", ")))->check(sizes);
    command->add_option("--up", print_.up, "Several faces on each sheet of this size, with marks to cut along")->check(sizes);
    command->add_option("--as", print_.formats, "pdf or xhtml, or both by comma; without it, pdf")->delimiter(',')->check(CLI::IsMember(paper_formats()));
    add_only(command, print_.only);
    add_today(command, print_.today);
    command->add_option("--language", print_.language, "Another language that the protocol uses words for");
    command->add_flag("--draft", print_.draft, "Print in spite of errors, with DRAFT on every face");
    command->add_flag("--overwrite", print_.overwrite, "Put the papers in place of those that were printed for a later day, too");
    command->footer("Examples:\n  stepward print ward-exit.ward --to cards --what card,script --paper A5\n"
                    "  writes one card and one script for every variant into cards/\n"
                    "  stepward print ward-exit.ward --to cards --what badge --up A4\n"
                    "  badge cards to be cut out, front and back\n"
                    "  stepward print ward-exit.ward --to screens --as xhtml\n"
                    "  writes web pages, which any browser opens from the disk and prints\n\n"
                    "All but dilution, recall and sign-off are made for every variant.");
    command->callback([this] { chosen_ = [this] { return print_command(print_, host_); }; });
  }

  void add_fresh() {
    CLI::App* command = app_.add_subcommand("fresh", "Say whether a paper on the wall is current");
    command->add_option("WORDS FILE", fresh_words_, "The four check words on its face, or the text of its square code; then the protocol")->required()->expected(1, 12);
    command->add_flag("--copies", fresh_.copies, "Instead of one paper: which copies of the protocol's register are out of date");
    command->add_option("--before", fresh_.before, "An older file of the protocol: whose paper is it, and what has changed since?")->expected(1);
    add_today(command, fresh_.today);
    command->add_option_function<std::string>("--format", [this](const std::string& format) { fresh_.as_json = format == "json"; }, "text or json")
        ->check(CLI::IsMember({"text", "json"}));
    command->footer("Example:\n  stepward fresh heron cello lettuce nutmeg ward-exit.ward --before archive/ward-exit-1.ward\n"
                    "  says whether a card with these words is current, and if it is of the older file, what has changed\n\n"
                    "With --copies FILE: every copy of the register (copies … end copies).\n"
                    "Exit code 0: it is current. 1: it is not, or it was misread.");
    command->callback([this] {
      fresh_.file = fresh_words_.back();
      fresh_words_.pop_back();
      fresh_.words = fmt::format("{}", fmt::join(fresh_words_, " "));
      if (fresh_.copies != fresh_words_.empty()) {
        const char* why = fresh_.copies ? "--copies asks for all copies, and takes the protocol alone" : "give the four check words, or the code, and then the protocol";
        chosen_ = [why] { return refusal(ExitCode::wrong_use, why); };
        return;
      }
      chosen_ = [this] { return fresh_command(fresh_, host_); };
    });
  }

  void add_slips() {
    CLI::App* command = app_.add_subcommand("slips", "Try every slip at every line, and tell which come to harm unseen");
    command->add_option("FILE", slips_.file, "A protocol without errors")->required();
    command->add_option("--at-once", slips_.at_once, "Slips of one run, 1, 2 or 3; without it, 1; 3 takes several times as long as 2")
        ->check([](const std::string& number) {
          return number == "1" || number == "2" || number == "3" ? std::string() : "sets of slips are tried up to three at once: 1, 2 or 3, and not " + number;
        });
    command->add_option_function<std::string>("--format", [this](const std::string& format) {
      slips_.format = format == "json" ? SlipsRequest::Format::json : format == "csv" ? SlipsRequest::Format::csv : SlipsRequest::Format::text;
    }, "text, csv or json")->check(CLI::IsMember({"text", "csv", "json"}));
    command->add_option_function<std::string>("--form", [this](const std::string& form) {
      slips_.form = form == "hfmea" ? SlipsRequest::Form::hfmea : form == "iec-60812" ? SlipsRequest::Form::iec_60812 : SlipsRequest::Form::slips;
    }, "slips, or a failure-mode table to be filled in: hfmea or iec-60812; without it, slips")->check(CLI::IsMember({"slips", "hfmea", "iec-60812"}));
    command->add_option("-o,--output", slips_.output, "The file to write; without it, standard output");
    command->add_flag("--interruptions", slips_.interruptions, "Let what may happen at any time happen to such runs, too");
    command->add_option("--limit", slips_.limit, "States of one variant's walk, and as many off it, before it is given up")->check(CLI::PositiveNumber);
    add_only(command, slips_.only);
    add_today(command, slips_.today);
    command->add_option("--numbers", slips_.numbers, "Reckon chances with a published set of figures: THERP-1983");
    command->add_option("--figure", slips_.figures, "A figure of your own instead of one of the set: NAME=VALUE or NAME=VALUE/ERROR-FACTOR");
    command->add_option("--dependence", slips_.dependence, "Of a confirm on who slipped: zero, low, moderate, high or complete; without it, moderate")
        ->check(CLI::IsMember({"zero", "low", "moderate", "high", "complete"}));
    command->add_option("--stress", slips_.stress, "very-low, optimum, moderately-high or extremely-high; without it, optimum")
        ->check(CLI::IsMember({"very-low", "optimum", "moderately-high", "extremely-high"}));
    command->add_option("--experience", slips_.experience, "skilled or novice; without it, skilled")->check(CLI::IsMember({"skilled", "novice"}));
    command->add_option("--something-to-see", slips_.something_to_see, "The chance that soil or a tear is there when somebody looks; without it, looks are not reckoned");
    command->add_option("--against", slips_.against, "With --numbers: an older draft to compare with");
    command->footer("Example:\n  stepward slips ward-exit.ward --form hfmea --format csv -o failure-modes.csv\n\n"
                    "A slip: a line left out, done early, cut short or done clumsily, a glove that tears, a look that misses.");
    command->callback([this] { chosen_ = [this] { return slips_command(slips_, host_); }; });
  }

  void add_graph() {
    CLI::App* command = app_.add_subcommand("graph", "Give the step graph to other software");
    command->add_option("FILE", graph_.file, "A protocol")->required();
    command->add_option("--as", graph_.formats, fmt::format("{}, or several by comma; without it, json", fmt::join(graph_format_names(), ", ")))
        ->delimiter(',')->check(CLI::IsMember(graph_format_names()));
    CLI::Option* output = command->add_option("-o,--output", graph_.output, "The file to write; without it, standard output");
    command->add_option("--to", graph_.folder, "The folder to write to, a file for each format; it is made if it is not there")->excludes(output);
    command->add_option("--paper", graph_.sheet, fmt::format("svg: cut each flow chart to pages; {}; without it, one sheet as large as it takes", fmt::join(chart_sheet_names(), ", ")))
        ->transform(CLI::IsMember(chart_sheet_names(), CLI::ignore_case));
    command->add_option("--depfile", graph_.depfile, "Write there which files were read, as a rule of make, for a build engine");
    command->add_flag("--walk", graph_.walk, "json, graphml: walk every run, and say of each way whether some run takes it");
    add_only(command, graph_.only);
    command->footer("Examples:\n  stepward graph ward-exit.ward --as svg --only \"gown, goggles\" -o ward-exit.svg\n"
                    "  stepward graph ward-exit.ward --as json,svg,bpmn,fhir --to graphs\n"
                    "  writes graphs/ward-exit.graph.json, .svg, .bpmn and .fhir.json, all or none\n"
                    "  stepward graph ward-exit.ward --as svg --paper A3 --to charts\n"
                    "  writes the flow chart of each variant on pages, a file for each\n\n"
                    "json and graphml hold the whole step graph; dot, svg and bpmn the flow chart with the numbers of the card;\n"
                    "fhir is a PlanDefinition of FHIR R4. docs/outputs/graphs.md describes them.");
    command->callback([this] { chosen_ = [this] { return graph_command(graph_, host_); }; });
  }

  void add_new() {
    CLI::App* command = app_.add_subcommand("new", "Begin a protocol from one of the library");
    command->add_option("NAME", new_.name, "A protocol of the library; without it, they are listed");
    command->add_option("--to", new_.folder, "The folder to write to; without it, this one");
    command->add_option("--title", new_.title, "What the new document is called");
    command->add_option("--number", new_.number, "The number it is filed under");
    command->footer("Example:\n  stepward new respirator-exit --title \"Leaving the isolation room\" --number IP-07\n"
                    "  writes respirator-exit.ward, and the entry that it pairs with; nothing that is there is overwritten");
    command->callback([this] { chosen_ = [this] { return new_command(new_); }; });
  }

  void add_mix() {
    CLI::App* command = app_.add_subcommand("mix", "Reckon a mixture: its strength, its proportion, a bucket of it");
    command->add_option("FILE", mix_.file, "A protocol or library: what it mixes is shown");
    command->add_option("--agent", mix_.agent, "One mixture of the file, by its name");
    command->add_option("--recipe", mix_.recipe, "What a label says, such as \"1 part with 9 parts\" or \"add 400 ml to 1 litre\"");
    command->add_option("--from", mix_.from, "The stock: \"5 percent\", \"70 percent powder\", \"1 g active each\" for tablets");
    command->add_option("--wanted", mix_.wanted, "The strength that it is to have, in percent or ppm");
    command->add_option("--for", mix_.volume, "A volume to be made, such as \"10 litres\"");
    command->add_option("--made", mix_.made, "When it was mixed, \"YYYY-MM-DD HH:MM\": is it too old?");
    command->add_option("--now", mix_.now, "The moment to hold --made against; without it, the clock's");
    command->footer("Examples:\n  stepward mix --from \"3.5 percent\" --wanted \"0.5 percent\" --for \"10 litres\"\n"
                    "  stepward mix --recipe \"add 400 ml to 1 litre\" --from \"5 percent\" --wanted \"2 percent\"\n"
                    "  stepward mix ward-exit.ward --agent \"strong chlorine\" --made \"2031-03-14 08:00\"");
    command->callback([this] { chosen_ = [this] { return mix_command(mix_, host_); }; });
  }

  void add_tidy() {
    CLI::App* command = app_.add_subcommand("tidy", "Set indentation and spacing, and nothing else");
    command->add_option("FILE", tidy_.files, "Any files; - reads standard input and prints")->required();
    CLI::Option* look = command->add_flag("--check", tidy_.only_look, "Change nothing; name the files that are not tidy, with exit code 1");
    command->add_flag("--print", tidy_.print, "Print the tidy form of one file and leave the file as it is")->excludes(look);
    command->footer("Example:\n  stepward tidy ward-exit.ward\n  indents every line by the blocks it stands in; remarks, texts and meaning stay\n\n"
                    "A file with errors of layout is left as it is, with exit code 1.");
    command->callback([this] { chosen_ = [this] { return tidy_command(tidy_); }; });
  }

  void add_words() {
    CLI::App* command = app_.add_subcommand("words", "List what a language still has to say, as a file to be filled in");
    command->add_option("FILE", words_.file, "A protocol")->required();
    command->add_option("--in", words_.language, "The language, by its English name")->required();
    command->add_option("-o,--output", words_.output, "The file to write; it must not be there yet. Without it, standard output");
    command->footer("Example:\n  stepward words ward-exit.ward --in Spanish -o ward-exit.es.ward\n"
                    "  lists every text, name and phrase that some paper prints and no file of words says\n\n"
                    "Put the translations between the quotes, then add  use words \"ward-exit.es.ward\"  to the protocol.");
    command->callback([this] { chosen_ = [this] { return words_command(words_, host_); }; });
  }

  void add_explain() {
    CLI::App* command = app_.add_subcommand("explain", "Tell more about the code of a finding");
    command->add_option("CODE", explain_.code, "Such as P401; without it, all codes are listed");
    command->footer("Example:\n  stepward explain P401");
    command->callback([this] { chosen_ = [this] { return explain_command(explain_); }; });
  }

  void add_dump() {
    CLI::App* command = app_.add_subcommand("dump", "Show what the compiler made of a file, for those who work on it");
    command->add_option("FILE", dump_.file, "Any file")->required();
    command->add_option("--stage", dump_.stage, "tree, model, graph, effects or stock")->required()->check(CLI::IsMember({"tree", "model", "graph", "effects", "stock"}));
    add_only(command, dump_.only);
    command->footer("Example:\n  stepward dump ward-exit.ward --stage graph --only coverall");
    command->callback([this] { chosen_ = [this] { return dump_command(dump_); }; });
  }

  void add_library() {
    CLI::App* command = app_.add_subcommand("library", "Show what the built-in library holds");
    command->add_option("NAME", library_.name, "One of its files; without it, all are listed");
    command->add_flag("--sources", library_.sources, "Where each statement of it comes from, and how far that was checked");
    command->footer("Example:\n  stepward library gloves\n  stepward library layered-exit --sources");
    command->callback([this] { chosen_ = [this] { return library_command(library_); }; });
  }

  static void add_only(CLI::App* command, std::string& only) {
    command->add_option("--only", only, "One variant, by its name or enough of its parts: \"gown, goggles\"");
  }
  static void add_today(CLI::App* command, std::string& today) {
    command->add_option("--today", today, "The day to hold review dates against, YYYY-MM-DD")->check(date_or_why);
  }

  CLI::App* chosen() {
    const auto given = app_.get_subcommands();
    return given.empty() ? nullptr : given.front();
  }
  std::string chosen_name() { return chosen() ? chosen()->get_name() + ' ' : ""; }
  std::string help() { return chosen() ? chosen()->help("stepward") : app_.help(); }

  /// CLI11 puts the option in front; one line is enough.
  static std::string plain(std::string what) {
    std::replace(what.begin(), what.end(), '\n', ' ');
    return what;
  }

  const Host& host_;
  CLI::App app_;
  CheckRequest check_;
  MendRequest mend_;
  OrderRequest order_;
  PrintRequest print_;
  FreshRequest fresh_;
  std::vector<std::string> fresh_words_;
  GraphRequest graph_;
  SlipsRequest slips_;
  TidyRequest tidy_;
  MixRequest mix_;
  NewRequest new_;
  ExplainRequest explain_;
  DumpRequest dump_;
  LibraryRequest library_;
  WordsRequest words_;
  std::function<Outcome()> chosen_;
};

}  // namespace

Outcome run(const std::vector<std::string>& arguments, const Host& host) {
  if (arguments.empty()) {
    Outcome help = CommandLine(host).run({"--help"});
    return {ExitCode::wrong_use, "", help.out};
  }
  const std::string& first = arguments.front();
  if (first == "help") {
    std::vector<std::string> rest(arguments.begin() + 1, arguments.end());
    rest.emplace_back("--help");
    return run(rest, host);
  }
  if (first.empty() || (first[0] != '-' && !holds(commands, first))) return unknown_command(first);
  return CommandLine(host).run(arguments);
}

}  // namespace stepward::driver
