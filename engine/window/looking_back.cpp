// SPDX-License-Identifier: Apache-2.0
#include "window/looking_back.hpp"

#include <exception>
#include <utility>

#include "play/in_view.hpp"

namespace haunch::window {

LookingBack::LookingBack(const play::Exercise& exercise) {
  thread_ = std::thread([this, &scene = exercise.scene(), truth = exercise.truth(),
                         driven = exercise.driven(), missed = exercise.marking()->missed] {
    try {
      // One thread: the person looks at pictures meanwhile.
      auto found = play::in_view(scene, truth, driven, missed, 1, &stop_);
      const std::lock_guard lock(guard_);
      if (!stop_) found_ = std::move(found);
    } catch (const std::exception&) {
      // The marks stand without it.
    }
    done_ = true;
  });
}

LookingBack::~LookingBack() {
  stop_ = true;
  thread_.join();
}

std::optional<std::vector<marking::InView>> LookingBack::take() {
  const std::lock_guard lock(guard_);
  return std::exchange(found_, std::nullopt);
}

CarefulLook::CarefulLook(const play::Exercise& exercise) : written_(exercise.record().observations) {
  thread_ = std::thread(
      [this, &scene = exercise.scene(), truth = exercise.truth(), rows = exercise.would_lose_on()] {
        try {
          unseen_ = play::not_plain(scene, truth, rows, 1, &stop_);
        } catch (const std::exception&) {
          // Then nothing is set aside.
        }
        done_ = true;
      });
}

CarefulLook::~CarefulLook() {
  stop_ = true;
  if (thread_.joinable()) thread_.join();
}

std::vector<coding::NotVisible> CarefulLook::take() {
  if (thread_.joinable()) thread_.join();
  return unseen_;
}

}  // namespace haunch::window
