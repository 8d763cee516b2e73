// Panels and controllers tried with each other, and a controller alone: as a report, as data and as a picture.
#pragma once

#include <plait/output/picture.hpp>
#include <plait/output/report.hpp>
#include <plait/search/match_why.hpp>
#include <plait/search/matching.hpp>
#include <plait/study/input_wants.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// Pairs of panels and controllers. Everything must outlive it.
struct MatchSubject {
    const search::MatchStudy& study;
    const search::MatchOutcome& outcome;
    const std::vector<search::JudgedPair>& best;  ///< as in the outcome
    const std::vector<search::PairWhy>& why;
    std::vector<std::string> notes;  ///< about the files
};

/// What a controller wants, with panels of the usual classes on it.
struct WantsSubject {
    const CatalogueController& controller;
    const CatalogueSite& site;
    std::vector<study::InputWants> inputs;
    std::vector<search::ClassAnswer> classes;
    int most_panels = 0;
    Setup bare = {};  ///< the controller and the site, without panels
};

[[nodiscard]] Report match_report(const MatchSubject& subject, Provenance provenance);
[[nodiscard]] Report wants_report(const WantsSubject& subject, Provenance provenance);

/// The best pairs, how many went which way, and why some are not the first.
[[nodiscard]] std::string match_json(const MatchSubject& subject);
[[nodiscard]] std::string wants_json(const WantsSubject& subject);
/// JSON lines: first one that says what follows, then one for each pair. Each with a line break at its end.
[[nodiscard]] std::string match_head_line(const search::MatchStudy& study);
[[nodiscard]] std::string match_pair_line(const search::MatchStudy& study, const search::PairAnswer& answer);
/// The same as a table.
[[nodiscard]] std::string match_csv_head();
[[nodiscard]] std::string match_csv_line(const search::MatchStudy& study, const search::PairAnswer& answer);

/// An input's window before any panel is chosen: the label's voltages that it wants of a string, and the line never to cross.
/// `bare`: a set-up of the controller and the site.
[[nodiscard]] std::string wants_svg(const Setup& bare, const study::InputWants& wants, PictureUse use);

}  // namespace plait::output
