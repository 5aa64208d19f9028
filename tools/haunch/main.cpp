// SPDX-License-Identifier: Apache-2.0
// haunch VERB ...: finds the verb; the only place where an exception becomes a message.
#include <algorithm>
#include <iostream>

#include "base/words.hpp"
#include "verbs.hpp"

namespace {

using namespace haunch;

struct Verb {
  const char* name;
  const char* call;
  const char* does;
  int (*run)(const cli::Arguments&);
};

const Verb verbs[] = {
    {"train", "train [SCENARIO]", "opens the window: drive a run, code it, be marked", cli::train},
    {"demo", "demo [--out DIR]", "the whole job without a display, on a shipped run", cli::demo},
    {"check", "check FILE...", "says what is wrong with a file, and where", cli::check},
    {"truth", "truth SCENARIO", "the record a careful inspector would write", cli::truth},
    {"render", "render SCENARIO --at M -o F.png", "what the camera sees at a place", cli::render},
    {"sight", "sight SCENARIO", "how plainly each fault shows on a careful drive", cli::sight},
    {"guide", "guide --sheet --out DIR", "a picture of each code, to learn or test by", cli::guide},
    {"mark", "mark TRUTH ATTEMPT", "verdicts, score and consequence of an attempt", cli::mark},
    {"grade", "grade RECORD...", "condition classes, each with its reason", cli::grade},
    {"convert", "convert IN OUT", "between exchange text, JSON and CSV", cli::convert},
    {"drill", "drill --kind K --code C", "one question of a drill, with its picture", cli::drill},
    {"scores", "scores [--trainee CODE]", "who can do what, and what to practise", cli::scores},
};

void print_help(std::ostream& stream) {
  stream << "haunch: training for people who put cameras down drains, and a check on their coding\n\n"
            "usage: haunch VERB ...\n\n";
  for (const Verb& verb : verbs) {
    std::string call = verb.call;
    call.resize(std::max<std::size_t>(call.size(), 34), ' ');
    stream << "  " << call << verb.does << '\n';
  }
  stream << "\nhaunch VERB --help says more about one; haunch --version says which haunch this is.\n"
            "A file that is there already is left as it is unless --force is given.\n"
            "Exit codes: 0 done, 1 the input has problems, 2 wrong usage, 3 the work could not go on.\n"
            "\nThis trains people. It does not replace local codes, a qualified assessment or a permit.\n";
}

int run(const cli::Arguments& words) {
  if (words.empty()) {
    print_help(std::cerr);
    return cli::wrong_usage;
  }
  if (words[0] == "--help" || words[0] == "-h" || words[0] == "help") {
    print_help(std::cout);
    return cli::done;
  }
  if (words[0] == "--version") {
    std::cout << "haunch " << cli::program_version() << '\n';
    return cli::done;
  }
  std::vector<std::string> names;
  for (const Verb& verb : verbs) {
    if (words[0] == verb.name) return verb.run(cli::Arguments(words.begin() + 1, words.end()));
    names.emplace_back(verb.name);
  }
  const std::string near = base::nearest_word(words[0], names);
  throw cli::UsageError("there is no verb \"" + words[0] + "\"" +
                        (near.empty() ? "; haunch --help lists them" : "; did you mean \"" + near + "\"?"));
}

}  // namespace

int main(int count, char** texts) {
  try {
    return run(cli::Arguments(texts + 1, texts + count));
  } catch (const cli::InputProblems& wrong) {
    cli::print_problems(wrong.problems, std::cerr);
    return cli::input_has_problems;
  } catch (const cli::UsageError& wrong) {
    std::cerr << "haunch: " << wrong.what() << '\n';
    return cli::wrong_usage;
  } catch (const cli::po::error& wrong) {
    std::cerr << "haunch: " << wrong.what() << "; haunch --help says how it is called\n";
    return cli::wrong_usage;
  } catch (const std::exception& stop) {
    std::cerr << "haunch: the work could not go on: " << stop.what() << '\n';
    return cli::could_not_go_on;
  }
}
