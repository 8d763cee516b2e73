// What the steps say. The order is in steps.cpp.
#pragma once

#include <plait/study/steps.hpp>

#include <string>

namespace plait::study {

/// The sentences about one input of a judged plan.
class InputWords {
public:
    InputWords(const Setup& setup, const InputJudgement& one, bool fused, const WorkChoice& choice);

    [[nodiscard]] std::string fasten_cable() const;
    [[nodiscard]] std::string plug_together(bool all_but_middle) const;
    [[nodiscard]] std::string close_middle() const;
    [[nodiscard]] std::string read_strings() const;
    [[nodiscard]] std::string join() const;
    [[nodiscard]] std::string first_fuse() const;
    [[nodiscard]] std::string read_holders(double one_reversed_v) const;
    [[nodiscard]] std::string other_fuses() const;
    [[nodiscard]] std::string read_array(bool uncover) const;
    [[nodiscard]] std::string connect() const;
    [[nodiscard]] std::string uncover() const;
    [[nodiscard]] std::string open_disconnect() const;
    [[nodiscard]] std::string cover_and_clamp() const;
    [[nodiscard]] std::string unplug() const;
    [[nodiscard]] std::string fuses_out() const;
    [[nodiscard]] std::string part_joint() const;
    [[nodiscard]] std::string part_strings() const;
    [[nodiscard]] std::string loosen_cable() const;

private:
    /// "the string of 3 panels", "the 3 strings of 3 panels each", "strings 1 and 3 of 3 panels and string 2 of 2".
    [[nodiscard]] std::string strings() const;

    const InputWiring* wiring_;
    std::string name_;
    bool parallel_;
    bool fused_;
    bool disconnect_;
};

/// The sentences about the whole site.
[[nodiscard]] std::string set_up_words(const Setup& setup, const WorkChoice& choice);
[[nodiscard]] std::string battery_cable_words(const Setup& setup);
[[nodiscard]] std::string watch_words(const Judgement& judgement);

}  // namespace plait::study
