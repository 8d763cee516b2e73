// How the curve of a panel was found, in names and sentences.
#pragma once

#include <plait/physics/datasheet_fit.hpp>

#include <string_view>

namespace plait::output {

[[nodiscard]] inline std::string_view name_of(physics::FitForm form) {
    switch (form) {
        case physics::FitForm::given:
            return "given";
        case physics::FitForm::prior_ideality:
            return "prior-ideality";
        case physics::FitForm::ideality_lowered:
            return "ideality-lowered";
        case physics::FitForm::five_parameters:
            return "de-soto-five-parameters";
        case physics::FitForm::four_parameters:
            return "de-soto-four-parameters";
        case physics::FitForm::no_sharp_knee:
            return "no-sharp-knee";
        case physics::FitForm::sharpest_knee:
            return "sharpest-knee";
        case physics::FitForm::pmax_out_of_reach:
            return "pmax-out-of-reach";
    }
    return "";
}

[[nodiscard]] inline std::string_view sentence_of(physics::FitForm form) {
    switch (form) {
        case physics::FitForm::given:
            return "The five parameters are those of the file.";
        case physics::FitForm::prior_ideality:
            return "Single diode with the technology's usual ideality; Isc, Voc, Vmp and Imp are met exactly.";
        case physics::FitForm::ideality_lowered:
            return "Single diode with the largest ideality these figures allow; Isc, Voc, Vmp and Imp are met exactly.";
        case physics::FitForm::five_parameters:
            return "De Soto's five equations: Isc, Voc, Vmp, Imp and the Voc coefficient are met.";
        case physics::FitForm::four_parameters:
            return "Fall-back: De Soto's five equations have no physical solution here; four, without a shunt, are "
                   "met.";
        case physics::FitForm::no_sharp_knee:
            return "Fall-back: no diode curve passes exactly through these figures; Isc, Voc and Pmax are met, Vmp and "
                   "Imp nearly.";
        case physics::FitForm::sharpest_knee:
            return "Fall-back: the fill factor asks for a very sharp knee; Isc, Voc and Pmax are met, Vmp and Imp "
                   "nearly.";
        case physics::FitForm::pmax_out_of_reach:
            return "Fall-back: no diode curve has this fill factor; Isc and Voc are met, Pmax as nearly as possible. "
                   "Check the datasheet.";
    }
    return "";
}

[[nodiscard]] inline std::string_view word_of(physics::Closure closure) {
    switch (closure) {
        case physics::Closure::met:
            return "met";
        case physics::Closure::clipped:
            return "met only partly";
        case physics::Closure::left_alone:
            return "not used";
    }
    return "";
}

}  // namespace plait::output
