// SPDX-License-Identifier: Apache-2.0
#include "report/record_pictures.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "report/owner_sample.hpp"

namespace haunch::report {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::Not;

const std::string png = std::string("\x89PNG\r\n\x1A\n", 8) + "the rest does not matter here";

/// A job's folder with a secret beside it.
struct Job {
  fs::path root, folder;
  Job() {
    std::string pattern = (fs::temp_directory_path() / "haunch-pictures-XXXXXX").string();
    if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
    root = pattern;
    folder = root / "job";
    fs::create_directories(folder / "views");
    write(root / "secret.png", png);
    write(folder / "four.PNG", png);
    write(folder / "views" / "five.png", png);
  }
  ~Job() { fs::remove_all(root); }
  static void write(const fs::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary) << bytes;
  }
};

std::string why(RecordPictures& pictures, const std::string& name) {
  const auto found = pictures.named(name);
  EXPECT_EQ(found.size(), 1U) << name;
  EXPECT_EQ(found.at(0).address.empty(), !found.at(0).missing.empty());
  return found.at(0).missing;
}

TEST(RecordPictures, AreTakenFromBesideTheRecord) {
  const Job job;
  RecordPictures pictures(job.folder);
  EXPECT_EQ(why(pictures, "four.PNG"), "");
  EXPECT_EQ(why(pictures, "views/five.png"), "");
  EXPECT_EQ(why(pictures, "views\\five.png"), "") << "records from other systems";
  const auto two = pictures.named("four.PNG; views/five.png");
  ASSERT_EQ(two.size(), 2U);
  EXPECT_TRUE(two[0].address.starts_with("data:image/png;base64,iVBORw0KGg"));
  EXPECT_THAT(why(pictures, "six.png"), HasSubstr("no such file"));
  EXPECT_THAT(why(pictures, "4"), HasSubstr("no file name of a picture"));
  EXPECT_TRUE(pictures.named("").empty());
}

TEST(RecordPictures, NothingOutsideTheFolderIsOpened) {
  const Job job;
  RecordPictures pictures(job.folder);
  fs::create_symlink(job.root / "secret.png", job.folder / "link.png");
  fs::create_directory_symlink(job.root, job.folder / "out");
  for (const std::string& name :
       {std::string("../secret.png"), std::string("views/../../secret.png"),
        (job.root / "secret.png").string(), std::string("link.png"), std::string("out/secret.png"),
        std::string("..\\secret.png"), std::string("C:\\secret.png"), std::string("file:///secret.png"),
        std::string("/etc/passwd.png")})
    EXPECT_THAT(why(pictures, name), HasSubstr("nothing else is opened")) << name;
}

TEST(RecordPictures, OnlyPicturesAreShownAndNotTooMany) {
  const Job job;
  Job::write(job.folder / "page.png", "<html><script>alert(1)</script>");
  Job::write(job.folder / "drawing.svg", "<svg/>");
  Job::write(job.folder / "large.png", png + std::string(RecordPictures::largest_bytes, 'x'));
  fs::create_directory(job.folder / "folder.png");
  RecordPictures pictures(job.folder, 2 * png.size());
  EXPECT_THAT(why(pictures, "page.png"), HasSubstr("no picture that a page can show"));
  EXPECT_THAT(why(pictures, "drawing.svg"), HasSubstr("no file name of a picture"));
  EXPECT_THAT(why(pictures, "large.png"), HasSubstr("too large"));
  EXPECT_THAT(why(pictures, "folder.png"), HasSubstr("no such file"));
  EXPECT_EQ(why(pictures, "four.PNG"), "");
  EXPECT_EQ(why(pictures, "four.PNG"), "");
  EXPECT_THAT(why(pictures, "four.PNG"), HasSubstr("as many pictures as it can"));
}

TEST(RecordPictures, StandWithTheirFindingAndMissingOnesAreNamed) {
  const Job job;
  std::vector<coding::Observation> found{noted(3, "BAC", "B", 30), noted(4, "BAB", "B", 2)};
  found[0].photo = "four.PNG";
  found[1].photo = "gone.jpg";
  RecordPictures pictures(job.folder);
  const std::string page = article_of(clean_pipe(found), {}, base::LengthUnit::metres, &pictures);
  EXPECT_THAT(page, HasSubstr("alt=\"Picture of finding 1: There is a hole in the pipe\""));
  EXPECT_THAT(page, HasSubstr("&quot;gone.jpg&quot; (finding 2): there is no such file with the record"));
  EXPECT_THAT(page, Not(HasSubstr(job.folder.string()))) << "a page says nothing of its maker's folders";
}

// RFC 4648 section 10.
TEST(Base64, IsTheOneOfTheStandard) {
  EXPECT_EQ(base64(""), "");
  EXPECT_EQ(base64("f"), "Zg==");
  EXPECT_EQ(base64("fo"), "Zm8=");
  EXPECT_EQ(base64("foo"), "Zm9v");
  EXPECT_EQ(base64("foobar"), "Zm9vYmFy");
}

}  // namespace
}  // namespace haunch::report
