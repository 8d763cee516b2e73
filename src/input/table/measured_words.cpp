#include "measured_words.hpp"

#include "quantity/words.hpp"

#include <algorithm>
#include <array>

namespace plait::input {
namespace {

struct Word {
    std::string_view text;
    std::uint32_t meaning;
};

// English, German, French, Spanish and Dutch, as people label columns. Common practice, no source.
constexpr std::array words{
    Word{"v", says::volts},
    Word{"u", says::volts},
    Word{"volt", says::volts},
    Word{"volts", says::volts},
    Word{"voltage", says::volts},
    Word{"vdc", says::volts},
    Word{"spannung", says::volts},
    Word{"tension", says::volts},
    Word{"voltaje", says::volts},
    Word{"spanning", says::volts},
    Word{"vin", says::volts | says::pv},
    Word{"uin", says::volts | says::pv},
    Word{"vpv", says::volts | says::pv},
    Word{"upv", says::volts | says::pv},
    Word{"a", says::amps},
    Word{"i", says::amps},
    Word{"amp", says::amps},
    Word{"amps", says::amps},
    Word{"ampere", says::amps},
    Word{"amperes", says::amps},
    Word{"amperage", says::amps},
    Word{"current", says::amps},
    Word{"adc", says::amps},
    Word{"strom", says::amps},
    Word{"stromstarke", says::amps},
    Word{"courant", says::amps},
    Word{"intensite", says::amps},
    Word{"corriente", says::amps},
    Word{"intensidad", says::amps},
    Word{"stroom", says::amps},
    Word{"iin", says::amps | says::pv},
    Word{"ipv", says::amps | says::pv},
    Word{"w", says::watts},
    Word{"p", says::watts},
    Word{"watt", says::watts},
    Word{"watts", says::watts},
    Word{"wattage", says::watts},
    Word{"power", says::watts},
    Word{"leistung", says::watts},
    Word{"puissance", says::watts},
    Word{"potencia", says::watts},
    Word{"vermogen", says::watts},
    Word{"pin", says::watts | says::pv},
    Word{"ppv", says::watts | says::pv},
    Word{"temperature", says::temperature},
    Word{"temp", says::temperature},
    Word{"temperatur", says::temperature},
    Word{"temperatura", says::temperature},
    Word{"temperatuur", says::temperature},
    Word{"tair", says::temperature | says::air},
    Word{"tamb", says::temperature | says::air},
    Word{"tambient", says::temperature | says::air},
    Word{"tluft", says::temperature | says::air},
    Word{"tpanel", says::temperature | says::panel},
    Word{"tmodule", says::temperature | says::panel},
    Word{"tmodul", says::temperature | says::panel},
    Word{"tmod", says::temperature | says::panel},
    Word{"tcell", says::temperature | says::panel},
    Word{"tzelle", says::temperature | says::panel},
    Word{"irradiance", says::irradiance},
    Word{"einstrahlung", says::irradiance},
    Word{"bestrahlungsstarke", says::irradiance},
    Word{"eclairement", says::irradiance},
    Word{"irradiancia", says::irradiance},
    Word{"instraling", says::irradiance},
    Word{"g", says::irradiance},
    Word{"gpoa", says::irradiance},
    Word{"poa", says::irradiance},
    Word{"sun", says::irradiance},
    Word{"ghi", says::irradiance | says::horizontal},
    Word{"global", says::horizontal},
    Word{"horizontal", says::horizontal},
    Word{"plane", says::light},
    Word{"soc", says::charge_state},
    Word{"batterysoc", says::charge_state | says::battery},
    Word{"ladezustand", says::charge_state},
    Word{"akkustand", says::charge_state},
    Word{"laadtoestand", says::charge_state},
    Word{"state", says::state},
    Word{"status", says::state},
    Word{"mode", says::state},
    Word{"zustand", says::state},
    Word{"etat", says::state},
    Word{"estado", says::state},
    Word{"toestand", says::state},
    Word{"limit", says::limit},
    Word{"ilim", says::limit | says::amps},
    Word{"strombegrenzung", says::limit | says::amps},
    Word{"time", says::time},
    Word{"timestamp", says::time},
    Word{"datetime", says::time},
    Word{"utc", says::time},
    Word{"epoch", says::time},
    Word{"unixtime", says::time},
    Word{"unix", says::time},
    Word{"clock", says::time},
    Word{"local", says::time},
    Word{"stamp", says::time},
    Word{"zeit", says::time},
    Word{"uhrzeit", says::time},
    Word{"zeitstempel", says::time},
    Word{"zeitpunkt", says::time},
    Word{"temps", says::time},
    Word{"heure", says::time},
    Word{"horodatage", says::time},
    Word{"hora", says::time},
    Word{"tiempo", says::time},
    Word{"tijd", says::time},
    Word{"tijdstip", says::time},
    Word{"elapsed", says::time | says::elapsed},
    Word{"duration", says::time | says::elapsed},
    Word{"laufzeit", says::time | says::elapsed},
    Word{"date", says::date},
    Word{"day", says::date},
    Word{"datum", says::date},
    Word{"fecha", says::date},
    Word{"pv", says::pv},
    Word{"solar", says::pv},
    Word{"input", says::pv},
    Word{"in", says::pv},
    Word{"fv", says::pv},
    Word{"mppt", says::pv},
    Word{"photovoltaic", says::pv},
    Word{"generator", says::pv},
    Word{"solaire", says::pv},
    Word{"entree", says::pv},
    Word{"entrada", says::pv},
    Word{"eingang", says::pv},
    Word{"ingang", says::pv},
    Word{"zonne", says::pv},
    Word{"string", says::pv},
    Word{"array", says::panel},
    Word{"panel", says::panel},
    Word{"panels", says::panel},
    Word{"module", says::panel},
    Word{"modules", says::panel},
    Word{"mod", says::panel},
    Word{"cell", says::panel},
    Word{"modul", says::panel},
    Word{"zelle", says::panel},
    Word{"panneau", says::panel},
    Word{"panneaux", says::panel},
    Word{"panneaus", says::panel},
    Word{"modulo", says::panel},
    Word{"celda", says::panel},
    Word{"cellule", says::panel},
    Word{"paneel", says::panel},
    Word{"panelen", says::panel},
    Word{"zonnepaneel", says::panel},
    Word{"zonnepanelen", says::panel},
    Word{"air", says::air},
    Word{"ambient", says::air},
    Word{"amb", says::air},
    Word{"outdoor", says::air},
    Word{"outside", says::air},
    Word{"luft", says::air},
    Word{"umgebung", says::air},
    Word{"aussen", says::air},
    Word{"ambiante", says::air},
    Word{"ambiente", says::air},
    Word{"aire", says::air},
    Word{"exterieure", says::air},
    Word{"exterior", says::air},
    Word{"lucht", says::air},
    Word{"omgeving", says::air},
    Word{"buiten", says::air},
    Word{"battery", says::battery},
    Word{"bat", says::battery},
    Word{"batt", says::battery},
    Word{"batterie", says::battery},
    Word{"akku", says::battery},
    Word{"bateria", says::battery},
    Word{"accu", says::battery},
    Word{"batterij", says::battery},
    Word{"batterieleistung", says::battery | says::watts},
    Word{"wall", says::wall},
    Word{"grid", says::wall},
    Word{"mains", says::wall},
    Word{"netz", says::wall},
    Word{"netzleistung", says::wall | says::watts},
    Word{"netzbezug", says::wall | says::charging},
    Word{"secteur", says::wall},
    Word{"red", says::wall},
    Word{"lichtnet", says::wall},
    Word{"charging", says::charging},
    Word{"charger", says::charging},
    Word{"charge", says::charging},
    Word{"supply", says::supply},
    Word{"psu", says::supply},
    Word{"display", says::display},
    Word{"displayed", says::display},
    Word{"shown", says::display},
    Word{"anzeige", says::display},
    Word{"angezeigt", says::display},
    Word{"affichage", says::display},
    Word{"pantalla", says::display},
    Word{"scherm", says::display},
    Word{"measured", says::filler},
    Word{"dc", says::filler},
    Word{"avg", says::filler},
    Word{"average", says::filler},
    Word{"mean", says::filler},
    Word{"gemessen", says::filler},
    Word{"gemessene", says::filler},
    Word{"mesure", says::filler},
    Word{"mesuree", says::filler},
    Word{"medida", says::filler},
    Word{"gemeten", says::filler},
    Word{"&", says::filler},
    Word{"+", says::filler},
    Word{"and", says::filler},
    Word{"und", says::filler},
    Word{"et", says::filler},
    Word{"y", says::filler},
    Word{"en", says::filler},
    Word{"of", says::filler},
    Word{"the", says::filler},
    Word{"de", says::filler},
    Word{"del", says::filler},
    Word{"des", says::filler},
    Word{"du", says::filler},
    Word{"d'entree", says::pv},
};

// German and Dutch run them together.
constexpr std::array first_parts{Word{"pv", says::pv},
                                 Word{"solar", says::pv},
                                 Word{"eingangs", says::pv},
                                 Word{"generator", says::pv},
                                 Word{"ingangs", says::pv},
                                 Word{"zonne", says::pv},
                                 Word{"modul", says::panel},
                                 Word{"module", says::panel},
                                 Word{"panel", says::panel},
                                 Word{"zell", says::panel},
                                 Word{"zellen", says::panel},
                                 Word{"paneel", says::panel},
                                 Word{"cel", says::panel},
                                 Word{"luft", says::air},
                                 Word{"umgebungs", says::air},
                                 Word{"aussen", says::air},
                                 Word{"aussenluft", says::air},
                                 Word{"lucht", says::air},
                                 Word{"omgevings", says::air},
                                 Word{"buiten", says::air},
                                 Word{"mess", says::filler},
                                 Word{"solarmodul", says::panel},
                                 Word{"zonnepaneel", says::panel}};
constexpr std::array last_parts{Word{"spannung", says::volts},
                                Word{"spanning", says::volts},
                                Word{"strom", says::amps},
                                Word{"stroom", says::amps},
                                Word{"leistung", says::watts},
                                Word{"vermogen", says::watts},
                                Word{"temperatur", says::temperature},
                                Word{"temperatuur", says::temperature}};

template <class Table>
std::optional<std::uint32_t> looked_up(const Table& table, std::string_view word) {
    const auto found = std::find_if(table.begin(), table.end(), [&](const Word& w) { return w.text == word; });
    return found == table.end() ? std::nullopt : std::optional<std::uint32_t>(found->meaning);
}

std::optional<std::uint32_t> compound_says(std::string_view word) {
    for (const Word& last : last_parts) {
        if (word.size() <= last.text.size() || word.substr(word.size() - last.text.size()) != last.text) continue;
        if (const auto first = looked_up(first_parts, word.substr(0, word.size() - last.text.size()))) {
            return *first | last.meaning;
        }
    }
    return std::nullopt;
}

// Latin-1 letters with marks, 0xC0 … 0xFF, without them; the same numbers are their code points. '\0': none.
char without_mark(unsigned code) {
    static constexpr std::string_view plain{"aaaaaa\0ceeeeiiii\0nooooo\0ouuuuy\0\0aaaaaa\0ceeeeiiii\0nooooo\0ouuuuy\0y",
                                            64};
    return code >= 0xC0U && code <= 0xFFU ? plain[code - 0xC0U] : '\0';
}

bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

}  // namespace

std::optional<std::uint32_t> word_says(std::string_view word) {
    if (const auto whole = looked_up(words, word)) return whole;
    if (const auto compound = compound_says(word)) return compound;
    // "pv1", "upv2", "mppt1": which input it is does not change what it is.
    if (word.size() > 1 && is_digit(word.back())) {
        const std::string_view stem = word.substr(0, word.size() - 1);
        const auto known = looked_up(words, stem);
        if (known && (*known & says::pv) != 0) return *known | says::number;
    }
    if (word.size() == 1 && is_digit(word.front())) return says::number;
    return std::nullopt;
}

std::string normal_name(std::string_view text) {
    std::string out;
    const auto byte = [](char c) { return static_cast<unsigned>(static_cast<unsigned char>(c)); };
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = utf8_length(text, i);
        unsigned code = byte(text[i]);  // of a byte that is no UTF-8: Latin-1
        if (length == 2) code = ((code & 0x1FU) << 6U) | (byte(text[i + 1]) & 0x3FU);
        if (length > 2) {
            out += text.substr(i, length);
            i += length;
            continue;
        }
        const std::size_t here = i;
        i += std::max<std::size_t>(length, 1);
        if (code >= 0x80U) {
            if (code == 0xDFU) {
                out += "ss";
            } else if (code == 0xB0U || code == 0xBAU) {
                out += "°";
            } else if (code == 0xB2U) {
                out += "²";
            } else if (code == 0xA0U) {
                if (!out.empty() && out.back() != ' ') out += ' ';
            } else if (const char plain = without_mark(code)) {
                out += plain;
            } else {
                out += text.substr(here, i - here);
            }
            continue;
        }
        char c = text[here];
        const bool alone =
            (here == 0 || !letter(text[here - 1])) && (here + 2 >= text.size() || !letter(text[here + 2]));
        if (alone && text.substr(here, 2) == "MW") {
            out += "MW";
            i = here + 2;
            continue;
        }
        c = lower(c);
        if (c == '_' || c == '-' || c == '.' || c == '\t') c = ' ';
        if (c == ' ' && (out.empty() || out.back() == ' ')) continue;
        out += c;
    }
    while (!out.empty() && (out.back() == ' ' || out.back() == ':')) out.pop_back();
    return out;
}

std::string parted_at_capitals(std::string_view text) {
    const auto capital = [](char c) { return c >= 'A' && c <= 'Z'; };
    const auto small = [](char c) { return c >= 'a' && c <= 'z'; };
    std::string out;
    const std::size_t bracket = std::min(text.find_first_of("[("), text.size());  // units are left as they are
    for (std::size_t i = 0; i < bracket; ++i) {
        const bool after_small = i > 0 && (small(text[i - 1]) || is_digit(text[i - 1])) && capital(text[i]);
        const bool word_begins = i > 0 && capital(text[i - 1]) && capital(text[i]) && i + 1 < text.size() &&
                                 small(text[i + 1]);  // "PVPower"
        if (after_small || word_begins) out += ' ';
        out += text[i];
    }
    out += text.substr(bracket);
    return out;
}

}  // namespace plait::input
