// Lines, words and first lines: from text to tokens.
#include <doctest/doctest.h>

#include <string>

#include "parse_samples.hpp"

using namespace stepward;
using namespace stepward::tests;
using syntax::NodeKind;
using syntax::TokenKind;

TEST_CASE("first line: version and kind of file are read") {
  const Parsed file = parse_text("stepward 1 library\n");
  CHECK(file.codes() == "");
  CHECK(file.tree.language_version == 1);
  CHECK(file.tree.file_kind == "library");
  CHECK(parse_text("# about this file\n\n  Stepward 1 RULES # so\n").tree.file_kind == "rules");
}

TEST_CASE("first line: what is wrong with it is said once") {
  CHECK(parse_text("document\nend document\n").codes() == "L101:1");
  CHECK(parse_text("stepwards 1 protocol\n").codes() == "L101:1");
  CHECK(parse_text("stepward protocol\n").codes() == "L101:1");
  CHECK(parse_text("# nothing but a remark\n").codes() == "L101:1");
  CHECK(parse_text("stepward 2 protocol\n").codes() == "L102:1");
  CHECK(parse_text("stepward 1 procedure\n").codes() == "L103:1");
  CHECK(parse_text("stepward 1 protocol \"Exit\"\n").codes() == "L104:1");
  CHECK(parse_text("stepward 1 words\nwords in Spanish for X\n").codes() == "");
}

TEST_CASE("tokens: each form keeps its text, as compared and as typed") {
  const Parsed file = steps("Move TO \"Exit Bay\", 0.5 12 2031-03-15 1 : 10 VIR-P07 1.0.2 nurse\xE2\x80\x99s 2nd");
  REQUIRE(file.codes() == "");
  const auto& phrase = file.only_step().phrase;
  const auto form = [&phrase](std::size_t i) { return phrase.at(i).kind; };
  CHECK(phrase[0].text == "move");
  CHECK(phrase[0].written == "Move");
  CHECK(form(2) == TokenKind::quoted);
  CHECK(phrase[2].text == "Exit Bay");
  CHECK(form(3) == TokenKind::comma);
  CHECK(form(4) == TokenKind::number);
  CHECK(phrase[4].text == "0.5");
  CHECK(form(5) == TokenKind::number);
  CHECK(form(6) == TokenKind::date);
  CHECK(form(7) == TokenKind::ratio);
  CHECK(phrase[8].text == "vir-p07");
  CHECK(phrase[8].written == "VIR-P07");
  CHECK(form(9) == TokenKind::word);
  CHECK(phrase[10].text == "nurse's");
  CHECK(form(11) == TokenKind::word);
  CHECK(phrase.size() == 12);
}

TEST_CASE("tokens: spans lead back to the text") {
  const Parsed file = steps("take off  \"caf\xC3\xA9\" gloves # why");
  const auto& step = file.only_step();
  CHECK(file.text(step.phrase[2].span) == "\"caf\xC3\xA9\"");
  CHECK(file.text(step.span) == "take off  \"caf\xC3\xA9\" gloves");
  REQUIRE(file.tree.remarks.size() == 1);
  CHECK(file.text(file.tree.remarks[0]) == "# why");
}

TEST_CASE("quotes: curly ones are taken, remarks inside them are text") {
  const Parsed file = steps(
      "act \xE2\x80\x9CStop # here\xE2\x80\x9D \"he said \xE2\x80\x9Cstop\xE2\x80\x9D\" \xE2\x80\x9Ehalt\xE2\x80\x9C");
  REQUIRE(file.codes() == "");
  const auto& phrase = file.only_step().phrase;
  REQUIRE(phrase.size() == 4);
  CHECK(phrase[1].text == "Stop # here");
  CHECK(phrase[2].text == "he said \xE2\x80\x9Cstop\xE2\x80\x9D");
  CHECK(phrase[3].text == "halt");
}

TEST_CASE("quotes: an open one takes the rest of its line and no more") {
  const Parsed file = steps("act \"Stop here\ncall \"help\" \"again");
  CHECK(file.codes() == "L201:3 L201:4");
  CHECK(file.step(0).phrase[1].text == "Stop here");
  CHECK(file.step(1).phrase.size() == 3);
}

TEST_CASE("characters without meaning are reported once a line") {
  CHECK(steps("disinfect hands with 0.5 % chlorine (strong)").codes() == "L202:3");
  CHECK(steps("take off gloves; take off gown.\ntake off boots!").codes() == "L202:3 L202:4");
  CHECK(steps("%").codes() == "L202:3");
  CHECK(steps("mix 0,5 percent").codes() == "L203:3 L402:3");
  CHECK(steps("take 2, 3 wipes").codes() == "");
}

TEST_CASE("pasted text: marks of lists, tabs, odd blanks and line ends are accepted") {
  const std::string pasted =
      "\xEF\xBB\xBFstepward 1 protocol\r\nphase \xE2\x80\x9CLeave\xE2\x80\x9D\r\n"
      "\xE2\x80\xA2\ttake\xC2\xA0off apron\r\n- take off gown\r\n* take off hood\r\n\xE2\x80\x93 take off mask\r\n"
      "1. take off one\r\n2) take off two\r\nend\tphase\t\r\n";
  const Parsed file = parse_text(pasted);
  CHECK(file.codes() == "");
  const auto& phase = file.tree[file.tree.root().children.at(0)];
  REQUIRE(phase.children.size() == 6);
  for (const syntax::NodeId step : phase.children) {
    CHECK(file.tree[step].phrase.at(0).text == "take");
    CHECK(file.tree[step].phrase.at(1).text == "off");
  }
}

TEST_CASE("pasted text: a number that counts is no mark of a list") {
  const Parsed file = parse_text("stepward 1 protocol\nbefore starting, have\n  2 pair gloves\n  3. bench\nend have\n");
  CHECK(file.codes() == "");
  const auto& stock = file.tree[file.tree.root().children.at(0)];
  CHECK(file.tree[stock.children.at(0)].phrase.at(0).text == "2");
  CHECK(file.tree[stock.children.at(1)].phrase.at(0).text == "bench");
}

TEST_CASE("heads: the longest wins, in any case") {
  const Parsed file = parse_text(
      "stepward 1 library\nagent bleach\n  KEEPS 24 hours\n  never on skin\nend agent\n"
      "role observer\n  keeps hands off wearer\nend role\n");
  REQUIRE(file.codes() == "");
  const auto& agent = file.tree[file.tree.root().children.at(0)];
  CHECK(file.tree[agent.children.at(0)].kind == NodeKind::keeps);
  CHECK(file.tree[agent.children.at(1)].kind == NodeKind::never_on);
  const auto& role = file.tree[file.tree.root().children.at(1)];
  CHECK(file.tree[role.children.at(0)].kind == NodeKind::keeps_hands_off);
  CHECK(file.text(file.tree[role.children.at(0)].head) == "keeps hands off");
}

TEST_CASE("heads: if not is a detail before a quote and a question otherwise") {
  const Parsed detail = steps("test seal\n  if not \"Again.\"");
  CHECK(detail.codes() == "");
  CHECK(detail.tree[detail.only_step().children.at(0)].kind == NodeKind::if_not);
  const Parsed question = steps("if not soil on gloves\n  move to bay\nend if");
  CHECK(question.codes() == "");
  CHECK(question.only_step().kind == NodeKind::if_question);
  CHECK(question.only_step().phrase.at(0).text == "not");
}

TEST_CASE("bad files: each kind gets one finding that says what it is") {
  CHECK(parse_text("").codes() == "L111:1");
  CHECK(parse_text(" \n\t\n").codes() == "L111:1");
  CHECK(parse_text(std::string("PK\x03\x04\x14\x00\x06\x00", 8)).codes() == "L112:1");
  CHECK(parse_text(std::string(64, '\x01')).codes() == "L112:1");
  CHECK(parse_text("stepward 1 protocol\nzone caf\xE9\n").codes() == "L113:2");
  CHECK(parse_text(std::string("stepward 1 protocol\nzone a\0b\n", 29)).codes() == "L114:2");
  CHECK(parse_text("\xFF\xFEs\1t\1").codes() == "L116:1");
  CHECK(parse_text(std::string((std::size_t{64} << 20) + 1, 'x')).codes() == "L115:1");
}

TEST_CASE("bad files: a bad byte is named by its place") {
  const Parsed file = parse_text("stepward 1 protocol\nzone caf\xE9\n");
  REQUIRE(file.sink.size() == 1);
  CHECK(file.sink[0].args == std::vector<std::string>{"29"});
  CHECK(file.sink[0].at.begin == 28);
}

TEST_CASE("bad files: a file that is wrong on every line stops at the hundredth finding") {
  std::string text = "stepward 1 protocol\nzone a\n";
  for (int i = 0; i < 5000; ++i) text += "  nothing known %\n";
  const Parsed file = parse_text(text);
  CHECK(file.sink.size() == 101);
  CHECK(file.sink.back().code == diagnostics::Code::L117);
}
