#include <plait/input/measured_table.hpp>

#include "measured_rows.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cstring>
#include <utility>

namespace plait::input {
namespace {

constexpr std::size_t longest_line = 1U << 16U;
constexpr std::size_t head_bytes = 1U << 16U;
constexpr int head_lines = 50;  // the header is looked for in so many lines that are not empty

constexpr const char* zero_byte = "there is a zero byte in this line: this is no text. Export the table as CSV.";

bool utf16(std::string_view text) {
    return text.size() >= 2 && (text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF");
}

}  // namespace

/// Cuts the text into lines, keeps the head until it is known what it says, then hands line by line on.
class MeasuredReader::Impl {
public:
    Impl(std::string file, Take take, std::vector<ColumnByHand> by_hand)
        : complaints_(std::move(file)), rows_(complaints_, found_, std::move(take), std::move(by_hand)) {}

    bool feed(std::string_view piece) {
        while (!piece.empty() && !given_up_) {
            const void* const found = std::memchr(piece.data(), '\n', piece.size());
            const std::size_t length = found == nullptr
                                           ? piece.size()
                                           : static_cast<std::size_t>(static_cast<const char*>(found) - piece.data());
            const std::string_view part = piece.substr(0, length);
            if (carried_.size() + length > longest_line) {
                too_long(part);
                break;
            }
            if (found == nullptr) {
                carried_ += part;
                break;
            }
            ++line_;
            if (carried_.empty()) {
                line(part, false);
            } else {
                carried_ += part;
                line(carried_, false);
            }
            carried_.clear();
            piece.remove_prefix(length + 1);
        }
        return !given_up_;
    }

    Result<MeasuredTable> finish() {
        if (!carried_.empty() && !given_up_) {
            ++line_;
            line(carried_, true);
        }
        decide();
        if (!rows_.has_header() && complaints_.count() == 0) {
            complaints_.add(0, 0, Complaint::no_rows,
                            blanks_part_ ? "the columns seem to be parted by blanks. Part them by commas, semicolons "
                                           "or tabs."
                            : any_line_  ? "no header was found. Write a first line that names the columns, such as "
                                           "volts,amps,watts."
                                         : "the file is empty. Write a first line such as volts,amps, then one row for "
                                           "each reading.");
        } else if (found_.row_count == 0 && complaints_.count() == 0) {
            complaints_.add(found_.header_line, 1, Complaint::no_rows,
                            "there is no row below the header. Write one row for each reading.");
        }
        rows_.finish();
        if (complaints_.count() > 0) return Failure{complaints_.taken()};
        return std::move(found_);
    }

private:
    struct Waiting {
        std::string text;
        int number;
        bool cut;
    };

    void line(std::string_view text, bool cut) {
        if (line_ == 1 && utf16(text)) {
            return give_up(Complaint::no_text, "the file is UTF-16 text. Save it as UTF-8 and run again.");
        }
        if (line_ == 1 && text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
        if (!text.empty() && text.back() == '\r') text.remove_suffix(1);
        if (given_up_) return;
        if (decided_) {
            rows_.row(text, line_, cut);
            if (complaints_.hopeless()) {
                complaints_.stop_at(line_);
                given_up_ = true;
            }
            return;
        }
        if (text.find('\0') != std::string_view::npos) {
            return give_up(Complaint::no_text, zero_byte);
        }
        if (text.find('\r') != std::string_view::npos) {
            return give_up(Complaint::grammar,
                           "the lines end in bare carriage returns. Save the file with Unix or Windows line ends.");
        }
        if (waiting_.empty() && text.empty()) return;
        waiting_bytes_ += text.size() + 1;
        waiting_.push_back({std::string(text), line_, cut});
        if (waiting_bytes_ >= head_bytes) decide();
    }

    // No row is so long: what comes behind it cannot be one either, and a device or a picture has no end of it.
    void too_long(std::string_view part) {
        ++line_;
        if (carried_.find('\0') != std::string::npos || part.find('\0') != std::string_view::npos) {
            return give_up(Complaint::no_text, zero_byte);
        }
        if (!given_up_) {
            complaints_.add(
                line_, 1, Complaint::how_many,
                fmt::format(
                    "this line is longer than {} bytes, which no row is, so reading stopped here. Save the table as "
                    "CSV, one row a line.",
                    longest_line));
        }
        given_up_ = true;
    }

    void give_up(Complaint kind, const char* why) {
        if (!given_up_) complaints_.add(line_, 1, kind, why);
        given_up_ = true;
    }

    // Looks at the head of the file once, then hands its rows on.
    void decide() {
        if (decided_) return;
        decided_ = true;
        const std::vector<Waiting> head = std::exchange(waiting_, {});
        if (given_up_) return;
        const std::size_t begin = find_header(head);
        if (!rows_.has_header()) {
            given_up_ = true;
            return;
        }
        for (std::size_t i = begin; i < head.size(); ++i) rows_.weigh(head[i].text);
        for (std::size_t i = begin; i < head.size(); ++i) rows_.row(head[i].text, head[i].number, head[i].cut);
    }

    // Takes the first line with two known columns, in a comment or not. Gives the index of the first row.
    std::size_t find_header(const std::vector<Waiting>& head) {
        int seen = 0;
        const Waiting* poor = nullptr;
        for (std::size_t i = 0; i < head.size() && seen < head_lines; ++i) {
            std::string_view text = trimmed(head[i].text);
            if (text.empty()) continue;
            any_line_ = true;
            const bool comment = text.front() == '#';
            seen += comment ? 0 : 1;
            // A tab at the front is an empty first cell, so only comments are trimmed.
            const auto h = read_header(comment ? text.substr(1) : std::string_view(head[i].text), rows_.by_hand());
            if (!h) continue;
            if (h->columns.size() < 2) {
                if (poor == nullptr && !comment) poor = &head[i];
                continue;
            }
            if (seen > 1) {
                found_.notes.push_back(
                    fmt::format("The header is in line {}; what stands above it was skipped.", head[i].number));
            }
            rows_.take_header(*h, head[i].text, head[i].number);
            // Units may stand below, with blank lines and remarks between.
            std::size_t next = i + 1;
            for (; next < head.size(); ++next) {
                const std::string_view below = trimmed(head[next].text);
                if (below.empty()) continue;
                if (rows_.take_units_line(below, head[next].number)) return next + 1;
                if (below.front() != '#') break;
            }
            return i + 1;
        }
        if (poor == nullptr) look_for_blanks(head);
        if (poor != nullptr) complain_about(*poor, *read_header(poor->text, rows_.by_hand()));
        return head.size();
    }

    // "V   A" in one cell: people who line columns up with blanks are told.
    void look_for_blanks(const std::vector<Waiting>& head) {
        for (const Waiting& w : head) {
            std::string parted;
            for (const char c : std::string_view(w.text).substr(0, 1000)) parted += c == ' ' ? ';' : c;
            const auto h = read_header(parted, rows_.by_hand());
            if (h && h->columns.size() >= 2) blanks_part_ = true;
        }
    }

    void complain_about(const Waiting& line, const Header& header) {
        std::string others;
        for (std::size_t i = 0; i < std::min<std::size_t>(header.ignored.size(), 6); ++i) {
            others += (i > 0 ? ", " : "") + shown(header.ignored[i]);
        }
        if (header.two_ways) {
            complaints_.add(
                line.number, 1, Complaint::ambiguous,
                "the header can be parted in two ways. Part the columns by commas, semicolons or tabs alone.");
            return;
        }
        complaints_.add(
            line.number, 1, Complaint::unknown_word,
            fmt::format("of this header only {} is known{}. Name a column of volts and one of amps or watts, "
                        "such as volts,amps.",
                        shown(header.columns.front().title), others.empty() ? "" : ", not " + others));
    }

    MeasuredTable found_;
    MeasuredComplaints complaints_;
    MeasuredRows rows_;
    std::string carried_;  // the line that has begun
    int line_ = 0;         // lines that have ended
    std::vector<Waiting> waiting_;
    std::size_t waiting_bytes_ = 0;
    bool decided_ = false;
    bool given_up_ = false;
    bool any_line_ = false;
    bool blanks_part_ = false;
};

MeasuredReader::MeasuredReader(std::string file, Take take, std::vector<ColumnByHand> by_hand)
    : impl_(std::make_unique<Impl>(std::move(file), std::move(take), std::move(by_hand))) {}
MeasuredReader::~MeasuredReader() = default;
MeasuredReader::MeasuredReader(MeasuredReader&&) noexcept = default;
MeasuredReader& MeasuredReader::operator=(MeasuredReader&&) noexcept = default;

bool MeasuredReader::feed(std::string_view piece) { return impl_->feed(piece); }

Result<MeasuredTable> MeasuredReader::finish() { return impl_->finish(); }

Result<MeasuredTable> read_measured(std::string_view text, const std::string& file, const MeasuredReader::Take& take) {
    MeasuredReader reader(file, take);
    reader.feed(text);
    return reader.finish();
}

}  // namespace plait::input
