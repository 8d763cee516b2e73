// The kinds of complaints about what a person wrote: what a program reads of one, and what to do about it in general.
// Every complaint is of one kind, and every kind has its row in the table below, which docs/complaints.md repeats.
#pragma once

#include <plait/base/names.hpp>

#include <array>
#include <string_view>

namespace plait {

enum class Complaint : unsigned char {
    unreadable,      ///< a file that cannot be opened or read
    wrong_file,      ///< a file of another sort than was wanted
    no_text,         ///< bytes that are no text, or characters nobody can see
    grammar,         ///< a line, row or phrase whose form cannot be taken apart
    missing,         ///< something that has to be there
    unknown_key,     ///< a key that nothing reads
    unknown_word,    ///< a word or name outside the list it has to be from
    wrong_type,      ///< text where a list was wanted, and the like
    no_number,       ///< a figure that is none
    unit,            ///< a unit that is missing, unknown or of something else
    ambiguous,       ///< two ways to read it
    outside_range,   ///< a figure that cannot be
    disagreement,    ///< figures that cannot be true together
    twice,           ///< said once more
    how_many,        ///< more, or longer, than is read
    without_effect,  ///< something that changes nothing here
    no_rows,         ///< a table without anything to read in it
    time,            ///< a date or time that cannot be, or is out of order
    wiring,          ///< a wiring that is missing or cannot be built
    no_answer,       ///< the files say too little for what is asked
    option,          ///< a command line that cannot be read
    in_the_way,      ///< a file to write that would replace another
    left_out,        ///< the count of complaints that are not shown
    internal,        ///< a fault of the program
};

inline constexpr Names complaint_codes{
    Name{Complaint::unreadable, "unreadable"},
    Name{Complaint::wrong_file, "wrong-file"},
    Name{Complaint::no_text, "no-text"},
    Name{Complaint::grammar, "grammar"},
    Name{Complaint::missing, "missing"},
    Name{Complaint::unknown_key, "unknown-key"},
    Name{Complaint::unknown_word, "unknown-word"},
    Name{Complaint::wrong_type, "wrong-type"},
    Name{Complaint::no_number, "no-number"},
    Name{Complaint::unit, "unit"},
    Name{Complaint::ambiguous, "ambiguous"},
    Name{Complaint::outside_range, "outside-range"},
    Name{Complaint::disagreement, "disagreement"},
    Name{Complaint::twice, "twice"},
    Name{Complaint::how_many, "how-many"},
    Name{Complaint::without_effect, "without-effect"},
    Name{Complaint::no_rows, "no-rows"},
    Name{Complaint::time, "time"},
    Name{Complaint::wiring, "wiring"},
    Name{Complaint::no_answer, "no-answer"},
    Name{Complaint::option, "option"},
    Name{Complaint::in_the_way, "in-the-way"},
    Name{Complaint::left_out, "left-out"},
    Name{Complaint::internal, "internal"},
};

/// What to do about a complaint of each kind; the message of the complaint itself is closer to the point.
inline constexpr Names complaint_advice{
    Name{Complaint::unreadable, "Check the name and the folder, and that you may read the file."},
    Name{Complaint::wrong_file, "Name a file of the sort that is wanted here; docs/input.md shows each."},
    Name{Complaint::no_text, "Save the file as plain UTF-8 text, and delete what cannot be seen."},
    Name{Complaint::grammar, "Compare the line with the examples, and close what was opened."},
    Name{Complaint::missing, "Add what is missing; the message names it."},
    Name{Complaint::unknown_key, "Correct the spelling of the key, or delete its line."},
    Name{Complaint::unknown_word, "Write one of the words or names that are known here."},
    Name{Complaint::wrong_type, "Write the value in the form that the message shows."},
    Name{Complaint::no_number, "Write a plain number with a decimal point."},
    Name{Complaint::unit, "Write the number with a unit that fits the figure."},
    Name{Complaint::ambiguous, "Write which of the meanings is meant."},
    Name{Complaint::outside_range, "Check the figure, its sign and its unit against the paper it is from."},
    Name{Complaint::disagreement, "Check the figures that are named against the paper they are from."},
    Name{Complaint::twice, "Keep one of the two, or give each a name of its own."},
    Name{Complaint::how_many, "Shorten it, or split it over several runs."},
    Name{Complaint::without_effect, "Delete the line, or add what it belongs to."},
    Name{Complaint::no_rows, "Check that this is the right file, and that it has a header and rows."},
    Name{Complaint::time, "Write dates and times such as 2026-06-21 12:05, the earliest first."},
    Name{Complaint::wiring, "Write a wiring such as 2s1p, or let plait arrange find one."},
    Name{Complaint::no_answer, "Ask for something else, or add the figures that the message names."},
    Name{Complaint::option, "Add --help to the command to see what it takes."},
    Name{Complaint::in_the_way, "Choose another name for the file to write."},
    Name{Complaint::left_out, "Mend the complaints that are shown and run again."},
    Name{Complaint::internal, "Report it with the files you used; trust nothing of this report."},
};

}  // namespace plait
