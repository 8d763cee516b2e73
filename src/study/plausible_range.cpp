#include <plait/study/plausible_range.hpp>

#include "figure_record.hpp"

#include <cassert>

namespace plait::study {
namespace {

const FigureRecord& record_of(Quantity quantity) {
    for (const auto& records : {panel_figures(), system_figures()}) {
        for (const FigureRecord& record : records) {
            if (record.quantity == quantity) return record;
        }
    }
    assert(false && "every quantity has a record");
    return panel_figures().front();
}

}  // namespace

PlausibleRange plausible_range(const Setup& setup, const Assumption& assumption) {
    const FigureRecord& record = record_of(assumption.quantity);
    const Subject s{setup, assumption};
    const Ends ends = record.ends(s);
    const auto words = [&](double value) {
        return record.words_here ? record.words_here(s, value) : record.words(value);
    };
    return {ends.low, ends.high, words(ends.low), words(ends.high), record.source};
}

Setup looked_up(const Setup& setup, const Assumption& assumption, double value) {
    Setup out = setup;
    const auto same = [&](const Assumption& a) {
        return a.quantity == assumption.quantity && a.kind == assumption.kind && a.input == assumption.input &&
               a.cable == assumption.cable && a.figure == assumption.figure;
    };
    out.assumptions.erase(std::remove_if(out.assumptions.begin(), out.assumptions.end(), same), out.assumptions.end());
    record_of(assumption.quantity).set(out, assumption, value);
    return out;
}

std::string_view where_printed(Quantity quantity) { return record_of(quantity).where; }

}  // namespace plait::study
