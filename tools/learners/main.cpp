// SPDX-License-Identifier: Apache-2.0
// haunch-learners: simulated learners in our order of practice and in others, as one table.
#include <algorithm>
#include <boost/program_options.hpp>
#include <cstdio>
#include <ctime>
#include <exception>
#include <iostream>
#include <nlohmann/json.hpp>
#include <thread>

#include "base/result.hpp"
#include "learners/tables.hpp"
#include "learning/order.hpp"
#include "stored.hpp"

namespace {

using namespace haunch::learners;
namespace options = boost::program_options;

std::string text_of(const char* form, double a, double b, double c) {
  char text[64];
  std::snprintf(text, sizeof text, form, a, b, c);
  return text;
}

std::string percent(const Mean& mean) {
  return text_of("%.1f %% (%.1f to %.1f)", 100 * mean.value, 100 * mean.interval.low,
                 100 * mean.interval.high);
}

void print(const std::vector<Row>& rows) {
  std::printf("%-18s %-31s %7s %-22s %5s %-24s %-24s %-24s %s\n", "learners", "order", "reached", "trials",
              "days", "left after 30 days", "ours saves", "and of as many keeps", "held by 95 % intervals");
  for (const Row& row : rows) {
    const bool ours = row.order == Order::ours;
    const Mean& trials = row.trials;
    std::printf(
        "%-18s %-31s %3d/%-3d %-22s %5.0f %-24s %-24s %-24s %s\n", row.kind.c_str(), show(row.order).c_str(),
        row.reached, row.learners,
        text_of("%.0f (%.0f to %.0f)", trials.value, trials.interval.low, trials.interval.high).c_str(),
        row.days.value, percent(row.retention).c_str(), ours ? "" : percent(row.saved).c_str(),
        ours ? "" : percent(row.kept_more_of_as_many).c_str(),
        ours ? text_of("%.1f %%", 100 * row.coverage, 0, 0).c_str() : "");
  }
  std::printf(
      "\nreached: every code mastered once within the most trials. \"and of as many keeps\": what ours, gone "
      "on "
      "with for as many\ntrials as that order took, has left more after 30 days, in points.\n");
}

nlohmann::json json_of(const Mean& mean) {
  return {{"mean", mean.value}, {"low", mean.interval.low}, {"high", mean.interval.high}};
}

nlohmann::json json_of(const std::vector<Row>& rows) {
  nlohmann::json list = nlohmann::json::array();
  for (const Row& row : rows) {
    nlohmann::json one = {{"learners", row.kind},
                          {"order", show(row.order)},
                          {"count", row.learners},
                          {"reached", row.reached},
                          {"trials", json_of(row.trials)},
                          {"days", json_of(row.days)},
                          {"left_after_30_days", json_of(row.retention)}};
    if (row.order == Order::ours) {
      one["held_by_95_percent_intervals"] = row.coverage;
      for (std::size_t why = 0; why < row.by_why.size(); ++why)
        one["trials_because"][show(static_cast<haunch::learning::Why>(why))] = row.by_why[why];
    } else {
      one["ours_saves"] = json_of(row.saved);
      one["ours_keeps_more"] = json_of(row.kept_more);
      one["ours_keeps_more_of_as_many_trials"] = json_of(row.kept_more_of_as_many);
    }
    list.push_back(std::move(one));
  }
  return list;
}

int run(int argc, char** argv) {
  options::options_description shown("haunch-learners: simulated learners in each order of practice");
  const int cores = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
  shown.add_options()("help", "this text")("json", "for programs")(
      "learners", options::value<int>()->default_value(200), "of each kind")(
      "threads", options::value<int>()->default_value(cores), "to use")("kind", options::value<std::string>(),
                                                                        "only learners of this kind")(
      "order", options::value<std::string>(), "only this order beside ours")(
      "model", options::value<std::string>(), "another learning model file")(
      "store", options::value<std::string>(),
      "instead: keep their practice of some days in a store, to look at")(
      "days", options::value<int>()->default_value(25), "with --store: so many, up to today");
  options::variables_map given;
  options::store(options::parse_command_line(argc, argv, shown), given);
  options::notify(given);
  if (given.contains("help")) {
    std::cout << shown << "\n";
    for (const Kind& kind : kinds()) std::cout << kind.name << ": " << kind.source << "\n";
    return 0;
  }
  const int learners = given["learners"].as<int>();
  const int threads = given["threads"].as<int>();
  if (learners < 1 || threads < 1) throw options::error("--learners and --threads want a number from 1");
  if (given.contains("store")) {
    const int days = given["days"].as<int>();
    if (days < 1 || days > 1000) throw options::error("--days wants a number from 1 to 1000");
    const int people = given["learners"].defaulted() ? 5 : learners;
    const double today = static_cast<double>(std::time(nullptr)) / 86400;
    store_practice(given["store"].as<std::string>(), people, days, today);
    return 0;
  }
  haunch::learning::Model model;
  if (given.contains("model")) {
    auto read = haunch::learning::read_model(given["model"].as<std::string>());
    for (const auto& problem : read.problems()) std::cerr << haunch::base::to_line(problem) << "\n";
    if (!read.ok()) return 1;
    model = std::move(read).value();
  } else {
    model = haunch::learning::shipped_model();
  }
  std::vector<Order> orders;
  for (const Order order : all_orders)
    if (order == Order::ours || !given.contains("order") || given["order"].as<std::string>() == show(order))
      orders.push_back(order);
  std::vector<Row> rows;
  for (const Kind& kind : kinds()) {
    if (given.contains("kind") && given["kind"].as<std::string>() != kind.name) continue;
    const auto more = table_of(kind, learners, model, orders, {}, threads);
    rows.insert(rows.end(), more.begin(), more.end());
  }
  if (rows.empty()) throw options::error("no learners of that kind; --help lists them");
  if (given.contains("json")) {
    std::cout << json_of(rows).dump(1) << "\n";
  } else {
    print(rows);
  }
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(argc, argv);
  } catch (const options::error& wrong) {
    std::cerr << "haunch-learners: " << wrong.what() << "\n";
    return 2;
  } catch (const std::exception& wrong) {
    std::cerr << "haunch-learners: " << wrong.what() << "\n";
    return 3;
  }
}
