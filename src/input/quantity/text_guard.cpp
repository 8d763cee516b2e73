#include "text_guard.hpp"

#include "words.hpp"

#include <fmt/core.h>

namespace plait::input {
namespace {

unsigned byte_at(std::string_view text, std::size_t i) { return static_cast<unsigned char>(text[i]); }

bool starts_key(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-' ||
           c == '"' || c == '\'';
}

std::string foreign_character(std::string_view c) {
    const std::string shown = quoted(c);
    if (c == "“" || c == "”" || c == "„" || c == "‘" || c == "’") {
        return fmt::format("{} is a typographic quote. Write the straight quotes \" instead.", shown);
    }
    if (c == "\u00A0") return "an invisible non-breaking space stands here. Replace it by an ordinary space.";
    return fmt::format(
        "{} stands outside quotes, where only plain letters, digits and signs may. Put text and numbers with a unit in "
        "quotes, such as coldest_air = \"-12 °C\"; keys are spelt with a-z, 0-9, _ and -.",
        shown);
}

class Scanner {
public:
    explicit Scanner(std::string_view text) : text_(text) {}

    std::optional<Trouble> run() {
        if (text_.substr(0, 3) == "\xEF\xBB\xBF") i_ = 3;  // a byte order mark is allowed and is no character
        while (!trouble_ && i_ < text_.size()) step();
        return std::move(trouble_);
    }

    std::optional<Trouble> encoding() {
        while (!trouble_ && i_ < text_.size()) advance();
        return std::move(trouble_);
    }

private:
    void complain(Place at, Complaint kind, std::string message) { trouble_ = Trouble{at, kind, std::move(message)}; }
    [[nodiscard]] bool looking_at(std::string_view what) const { return text_.substr(i_, what.size()) == what; }

    // Over one character, whatever it is; false if it is not a character.
    bool advance() {
        const std::size_t length = utf8_length(text_, i_);
        if (length == 0) {
            complain(here_, Complaint::no_text,
                     fmt::format("byte 0x{:02X} is not UTF-8 text. Save the file as UTF-8 and run again.",
                                 byte_at(text_, i_)));
            return false;
        }
        if (text_[i_] == '\0') {
            complain(here_, Complaint::no_text,
                     "a NUL byte stands here, so this is not a text file. Save it as plain UTF-8 text.");
            return false;
        }
        if (text_[i_] == '\n') {
            ++here_.line;
            here_.column = 1;
        } else {
            ++here_.column;
        }
        i_ += length;
        return true;
    }

    void advance(std::size_t characters) {
        while (characters-- > 0 && i_ < text_.size() && advance()) {
        }
    }

    void step() {
        const char c = text_[i_];
        if (c == '\0') return static_cast<void>(advance());
        if (c == '"' || c == '\'') return string(c);
        if (c == '#') {
            while (i_ < text_.size() && text_[i_] != '\n' && advance()) {
            }
            return;
        }
        if (byte_at(text_, i_) >= 0x80U) {
            if (const std::size_t length = utf8_length(text_, i_)) {
                return complain(here_, Complaint::no_text, foreign_character(text_.substr(i_, length)));
            }
        } else if ((byte_at(text_, i_) < 0x20U && c != '\t' && c != '\n' && c != '\r') || c == '\x7F') {
            return complain(
                here_, Complaint::no_text,
                fmt::format("the control character {} stands here. Delete it.", quoted(text_.substr(i_, 1))));
        }
        if (c == '\n' && depth_ == 0) statement_begins_ = true;
        if (c == '\n' || c == '=' || c == ',' || c == '{' || c == '[') dots_ = 0;
        if (c == '.' && ++dots_ >= most_nested) {
            return complain(here_, Complaint::how_many,
                            fmt::format("a key of more than {} parts. Write it with fewer dots.", most_nested));
        }
        const bool blank = c == ' ' || c == '\t' || c == '\r' || c == '\n';
        if (statement_begins_ && !blank) {
            statement_begins_ = false;
            if (c == '[') return header();
            if (!starts_key(c)) {
                return complain(here_, Complaint::grammar,
                                fmt::format("{} cannot begin a line: a line is a key = value, a [table], a "
                                            "[[list of tables]] or a # comment.",
                                            quoted(std::string_view(&c, 1))));
            }
        }
        if (c == '[' || c == '{') {
            if (++depth_ > most_nested) {
                return complain(here_, Complaint::how_many,
                                fmt::format("lists or tables nested more than {} deep. Nothing here needs more "
                                            "than three; close the brackets.",
                                            most_nested));
            }
        }
        if ((c == ']' || c == '}') && depth_ > 0) --depth_;
        advance();
    }

    // [table] or [[list of tables]]; only that each part of its name begins like a key is looked at.
    void header() {
        const bool doubled = looking_at("[[");
        advance(doubled ? 2 : 1);
        for (int parts = 1; !trouble_; ++parts) {
            if (parts > most_nested) {
                return complain(
                    here_, Complaint::how_many,
                    fmt::format("a table name of more than {} parts. Write it with fewer dots.", most_nested));
            }
            while (looking_at(" ") || looking_at("\t")) advance();
            if (i_ < text_.size() && byte_at(text_, i_) >= 0x80U) return;  // `step` says what is wrong with it
            if (i_ >= text_.size() || !starts_key(text_[i_])) {
                return complain(here_, Complaint::grammar,
                                fmt::format("a table name is missing or misspelt here. Write {}, spelt with a-z, "
                                            "0-9, _ and -.",
                                            doubled ? "[[panel]] or [[controller.input]]" : "[site] or [controller]"));
            }
            if (text_[i_] == '"' || text_[i_] == '\'') {
                string(text_[i_]);
            } else {
                while (i_ < text_.size() && starts_key(text_[i_]) && text_[i_] != '"' && text_[i_] != '\'') advance();
            }
            while (looking_at(" ") || looking_at("\t")) advance();
            if (!looking_at(".")) break;
            advance();
        }
        if (!trouble_ && !looking_at(doubled ? "]]" : "]")) {
            return complain(here_, Complaint::grammar,
                            fmt::format("this table name is not closed. Write {} at its end, spell it with a-z, "
                                        "0-9, _ and -, and put nothing else inside.",
                                        doubled ? "]]" : "]"));
        }
        advance(doubled ? 2 : 1);
    }

    void string(char quote) {
        statement_begins_ = false;
        const Place opened = here_;
        const std::string triple(3, quote);
        const bool multiline = looking_at(triple);
        advance(multiline ? 3 : 1);
        while (!trouble_ && i_ < text_.size()) {
            if (quote == '"' && text_[i_] == '\\') {
                advance();
                if (i_ < text_.size() && (multiline || text_[i_] != '\n')) advance();
                continue;
            }
            if (multiline ? looking_at(triple) : text_[i_] == quote) {
                advance(multiline ? 3 : 1);
                // Up to two more quotes belong to the end of a multi-line string.
                for (int extra = 0; multiline && extra < 2 && i_ < text_.size() && text_[i_] == quote; ++extra)
                    advance();
                return;
            }
            if (!multiline && text_[i_] == '\n') break;
            advance();
        }
        if (!trouble_) {
            complain(opened, Complaint::grammar,
                     fmt::format("the text that begins here is not closed. Put a {} at its end.",
                                 multiline ? triple : std::string(1, quote)));
        }
    }

    std::string_view text_;
    std::size_t i_ = 0;
    Place here_{1, 1};
    int depth_ = 0;
    int dots_ = 0;
    bool statement_begins_ = true;
    std::optional<Trouble> trouble_;
};

}  // namespace

std::optional<Trouble> guard(std::string_view text) {
    if (text.size() > most_bytes) {
        return Trouble{{0, 0},
                       Complaint::how_many,
                       fmt::format("the file has {} bytes, more than the {} that are read. A set-up is a few thousand; "
                                   "is this the right file?",
                                   text.size(), most_bytes)};
    }
    if (text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF") {
        return Trouble{{1, 1}, Complaint::no_text, "the file is UTF-16 text. Save it as UTF-8 and run again."};
    }
    return Scanner(text).run();
}

std::optional<Diagnostic> encoding_complaint(std::string_view text, const std::string& where) {
    auto trouble = Scanner(text).encoding();
    if (!trouble) return std::nullopt;
    return Diagnostic{where, trouble->at.line, trouble->at.column, trouble->kind, std::move(trouble->message)};
}

}  // namespace plait::input
