#include "match_files.hpp"

#include <plait/input/read_catalogue.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <set>

namespace plait::cli {
namespace {

// More files than a person has; a folder that was meant for something else.
constexpr std::size_t most_files = 20000;
constexpr int most_kept = 60;

std::string_view without_folder(std::string_view path) {
    const std::size_t slash = path.find_last_of("/\\");
    return slash == std::string_view::npos ? path : path.substr(slash + 1);
}

class Reading {
public:
    Reading(const MatchOptions& o, Session& session) : o_(o), session_(session) {}

    Result<MatchFiles> run() {
        for (const std::string& path : all_paths()) take(path);
        for (const std::string& typed : o_.keep) keep(typed);
        site();
        if (complaints_.empty() && out_.controllers.empty()) {
            complain(o_.files.front(), Complaint::wrong_file,
                     "there is no controller among these files; name one too: a file with [[input]], or a set-up");
        }
        if (complaints_.empty() && out_.panels.empty() && (out_.controllers.size() > 1 || !out_.kept.empty())) {
            complain(o_.files.front(), Complaint::wrong_file,
                     "there is no panel among these files; name panel files or a folder of them, or one controller "
                     "alone to see what it wants");
        }
        if (complaints_.empty()) prices();
        if (!complaints_.empty()) return Failure{std::move(complaints_)};
        return std::move(out_);
    }

private:
    void complain(const std::string& file, Complaint kind, std::string message) {
        complaints_.push_back({file, 0, 0, kind, std::move(message)});
    }
    void complain(const Diagnostics& more) { complaints_.insert(complaints_.end(), more.begin(), more.end()); }

    /// Files as typed, folders as their files; each once.
    std::vector<std::string> all_paths() {
        std::vector<std::string> paths;
        std::set<std::string> seen;
        const auto add = [&](const std::string& path) {
            if (seen.insert(path).second) paths.push_back(path);
        };
        for (const std::string& typed : o_.files) {
            const auto inside = session_.world().files_of_folder ? session_.world().files_of_folder(typed) : std::nullopt;
            if (!inside) {
                add(typed);
                continue;
            }
            if (inside->empty())
                complain(typed, Complaint::wrong_file, "this folder has no .toml file; name one that has");
            for (const std::string& path : *inside) add(path);
        }
        if (paths.size() > most_files) {
            complain(o_.files.front(), Complaint::how_many,
                     fmt::format("{} files are more than the {} that are read at once; name fewer folders",
                                 paths.size(), most_files));
            paths.clear();
        }
        return paths;
    }

    void take(const std::string& path) {
        const Result<std::string, std::string> text = session_.read_file(path);
        if (!text) return complain(path, Complaint::unreadable, text.error());
        switch (input::sort_of_file(*text, path)) {
            case input::FileSort::panel:
                add(input::read_catalogue_panel(*text, path), out_.panels);
                break;
            case input::FileSort::controller:
            case input::FileSort::setup:
                add(input::read_catalogue_controller(*text, path, session_.reader()), out_.controllers);
                break;
            case input::FileSort::none:
                complain(path, Complaint::wrong_file,
                         "is neither a panel (pmax, voc …), nor a controller ([[input]]), nor a set-up; leave it out, "
                         "or see docs/input.md");
                break;
        }
    }

    template <class Item>
    void add(Result<Item> item, std::vector<Item>& to) {
        if (item) {
            to.push_back(*std::move(item));
        } else {
            complain(item.error());
        }
    }

    void keep(const std::string& typed) {
        const std::size_t sign = typed.find_last_of('=');
        const std::string number = sign == std::string::npos ? "" : typed.substr(sign + 1);
        int count = 0;
        const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), count);
        if (number.empty() || error != std::errc() || end != number.data() + number.size() || count < 1 || count > most_kept) {
            return complain(
                "--keep", Complaint::grammar,
                fmt::format("'{}' is no panel and number; write a file and 1 to {} of it, such as --keep roof.toml=3",
                            typed, most_kept));
        }
        const std::string path = typed.substr(0, sign);
        const auto same = std::find_if(out_.kept.begin(), out_.kept.end(), [&](const auto& k) { return k.first.file == path; });
        if (same != out_.kept.end())
            return complain("--keep", Complaint::twice,
                            fmt::format("'{}' is named twice; write one number of all of them", path));
        const Result<std::string, std::string> text = session_.read_file(path);
        if (!text) return complain(path, Complaint::unreadable, text.error());
        const Result<CataloguePanel> panel = input::read_catalogue_panel(*text, path);
        if (!panel) return complain(panel.error());
        out_.kept.emplace_back(*panel, count);
    }

    void site() {
        out_.site = input::assumed_site();
        if (!o_.site) return;
        const Result<std::string, std::string> text = session_.read_file(*o_.site);
        if (!text) return complain(*o_.site, Complaint::unreadable, text.error());
        Result<CatalogueSite> read = input::read_catalogue_site(*text, *o_.site);
        if (!read) return complain(read.error());
        out_.site = *std::move(read);
    }

    void prices() {
        input::PriceTable table;
        if (o_.prices) {
            const Result<std::string, std::string> text = session_.read_file(*o_.prices);
            if (!text) return complain(*o_.prices, Complaint::unreadable, text.error());
            Result<input::PriceTable> read = input::read_prices(*text, *o_.prices);
            if (!read) return complain(read.error());
            table = *std::move(read);
        }
        // Without a table a set-up's own price counts; several currencies are never mixed.
        out_.currency = table.currency;
        for (CatalogueController& c : out_.controllers) {
            if (!c.controller.price) continue;
            if (!o_.prices && out_.currency.empty()) out_.currency = c.currency;
            if (c.currency == out_.currency) continue;
            out_.notes.push_back(fmt::format("The price in {} is left out: it is in another currency ({}).", c.file, c.currency.empty() ? "none named" : c.currency));
            c.controller.price.reset();
        }
        for (const input::FilePrice& p : table.prices) {
            bool used = false;
            for (CataloguePanel& panel : out_.panels) {
                if (!means_file(p.name, panel.file)) continue;
                panel.price = p.price;
                used = true;
            }
            for (CatalogueController& c : out_.controllers) {
                if (!means_file(p.name, c.file)) continue;
                c.controller.price = p.price;
                used = true;
            }
            if (!used) unknown_prices_.push_back(p.name);
        }
        if (!unknown_prices_.empty()) {
            const std::string names = unknown_prices_.size() == 1 ? unknown_prices_.front()
                                                                  : fmt::format("{} and {} more", unknown_prices_.front(), unknown_prices_.size() - 1);
            out_.notes.push_back(fmt::format("{} prices files that were not named: {}.", *o_.prices, names));
        }
        if (o_.by == "cost" && std::none_of(out_.panels.begin(), out_.panels.end(), [](const CataloguePanel& p) { return p.price.has_value(); }) &&
            std::none_of(out_.controllers.begin(), out_.controllers.end(), [](const CatalogueController& c) { return c.controller.price.has_value(); })) {
            complain("--by", Complaint::missing,
                     "no price of these files is known; add --prices TABLE with lines such as: roof-430.toml, 95, EUR");
        }
    }

    const MatchOptions& o_;
    Session& session_;
    MatchFiles out_;
    Diagnostics complaints_;
    std::vector<std::string> unknown_prices_;
};

}  // namespace

Result<MatchFiles> match_files(const MatchOptions& o, Session& session) { return Reading(o, session).run(); }

bool means_file(std::string_view typed, const std::string& path) {
    std::string_view name = without_folder(path);
    if (typed == path || typed == name) return true;
    const std::size_t dot = name.find_last_of('.');
    return dot != std::string_view::npos && dot > 0 && typed == name.substr(0, dot);
}

}  // namespace plait::cli
