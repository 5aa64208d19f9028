// SPDX-License-Identifier: Apache-2.0
// Measures, on a thread of its own, how what was missed was in view. The review is there at once; these
// numbers join it when they are ready. Inside this room.
#pragma once

#include <atomic>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

#include "play/exercise.hpp"

namespace haunch::window {

class LookingBack {
 public:
  /// The exercise has been marked; only its scene is read from the thread, and that must outlive this.
  explicit LookingBack(const play::Exercise& exercise);
  ~LookingBack();  ///< stops within a picture or two
  LookingBack(const LookingBack&) = delete;
  LookingBack& operator=(const LookingBack&) = delete;
  /// What was found, once; nothing while it is under way or when it failed.
  std::optional<std::vector<marking::InView>> take();
  bool done() const { return done_; }

 private:
  std::atomic<bool> stop_ = false, done_ = false;
  std::mutex guard_;
  std::optional<std::vector<marking::InView>> found_;
  std::thread thread_;
};

/// Looks, on a thread of its own while classes are being given, for what no careful drive shows plainly of
/// what would be missed: it is held against nobody.
class CarefulLook {
 public:
  /// The exercise is being judged; only its scene is read from the thread, and that must outlive this.
  explicit CarefulLook(const play::Exercise& exercise);
  ~CarefulLook();  ///< stops within a picture or two
  CarefulLook(const CarefulLook&) = delete;
  CarefulLook& operator=(const CarefulLook&) = delete;
  /// Waits until it is known; nothing where it could not be.
  std::vector<coding::NotVisible> take();
  bool ready() const { return done_; }
  /// Was it looked for what is written down now? Somebody may have gone back to coding.
  bool is_for(const play::Exercise& exercise) const { return written_ == exercise.record().observations; }

 private:
  std::vector<coding::Observation> written_;
  std::atomic<bool> stop_ = false, done_ = false;
  std::vector<coding::NotVisible> unseen_;
  std::thread thread_;
};

}  // namespace haunch::window
