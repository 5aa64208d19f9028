// SPDX-License-Identifier: Apache-2.0
// A sheet: pictures that say nothing, and an index that says all.
#include "guide/sheet.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_document.hpp"

namespace haunch::guide {
namespace {

Plates two_joints() {
  Plates all = read_plates(shipped_plates()).value();
  std::erase_if(all.plates, [](const Plate& plate) { return plate.subject.code != "BAJ"; });
  all.plates.resize(2);
  return all;
}

TEST(Sheet, IndexSaysWhatEachPictureShows) {
  const Plates plates = two_joints();
  const std::string text = sheet_index(plates);
  const auto read = base::JsonDocument::read_text(text, "index.json", "sheet");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  const auto& index = read.value().root().at("plates");
  ASSERT_EQ(index.size(), 2U);
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_EQ(index[i].at("file"), plates.plates[i].name + ".png");
    EXPECT_EQ(index[i].at("code"), plates.plates[i].subject.code);
    EXPECT_EQ(index[i].at("q1"), plates.plates[i].subject.q1.value.value());
    EXPECT_GT(index[i].at("distance_m").get<double>(), index[i].at("lens_at_m").get<double>());
  }
}

TEST(Sheet, DrawsAPlateTheSameOnAnyNumberOfThreads) {
  const Plates plates = two_joints();
  const std::string once = draw_plate(plates.plates[0], {320, 180}, 1);
  EXPECT_EQ(once, draw_plate(plates.plates[0], {320, 180}, 2));
  EXPECT_NE(once, draw_plate(plates.plates[1], {320, 180}, 1));
  EXPECT_THAT(once, testing::StartsWith("\x89PNG"));
}

// Whoever is shown the picture must not read its answer in it: no text beside the pixels.
TEST(Sheet, PicturesCarryNoWords) {
  const std::string png = draw_plate(two_joints().plates[0], {320, 180}, 1);
  for (const char* chunk : {"tEXt", "iTXt", "zTXt", "eXIf"})
    EXPECT_THAT(png, testing::Not(testing::HasSubstr(chunk)));
}

}  // namespace
}  // namespace haunch::guide
