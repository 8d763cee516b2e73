#include "json_parts.hpp"
#include "match_parts.hpp"
#include "report/match_words.hpp"
#include "report/verdict_words.hpp"

namespace plait::output {

std::string match_json(const MatchSubject& s) {
    Json j = head("match");
    j["asked"] = asked_json(s.study);
    j["finished"] = s.outcome.finished;
    j["done"] = s.outcome.done;
    const search::MatchTally& t = s.outcome.tally;
    j["tally"] = {{"solved", t.solved},   {"no_string", t.no_string},   {"outranked", t.outranked}, {"holds", t.holds},
                  {"may_exceed", t.may_exceed}, {"none", t.none}, {"filtered", t.filtered}};
    j["best"] = Json::array();
    for (const search::JudgedPair& p : s.best) {
        Json one = pair_json(s.study, p.answer);
        one["verdict"] = verdict_json(*p.setup, p.judged.judgement.verdict);
        j["best"].push_back(one);
    }
    j["why"] = Json::array();
    for (const search::PairWhy& w : s.why) {
        Json one = pair_json(s.study, w.pair.answer);
        one["place"] = w.place ? Json(*w.place + 1) : Json(nullptr);
        one["reasons"] = pair_reasons(s, w);
        j["why"].push_back(one);
    }
    j["notes"] = s.notes;
    return printed(j);
}

}  // namespace plait::output
