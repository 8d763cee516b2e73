// The module's one door. A message is a list of texts, each with its length in front (four bytes, least first), the
// number of texts before them all. A request begins with what is wanted:
//
//     put PATH TEXT …            lays files on the shelf                      -> nothing
//     put-away PATH …            takes them off                               -> nothing
//     run TODAY COLUMNS ARG …    a command line, without the program's name   -> exit code, output, complaints,
//                                names missing (one a line), then PATH TEXT of every file it wrote
//     outline PATH               the set-up, its maps and its verdict as data  -> JSON, names missing
#include "setup_outline.hpp"
#include "shelf.hpp"

#include <plait/cli/run.hpp>

#include <cstdint>
#include <exception>
#include <string>
#include <string_view>
#include <vector>

namespace plait::web {
namespace {

using Texts = std::vector<std::string>;

std::uint32_t number_at(std::string_view bytes, std::size_t at) {
    std::uint32_t number = 0;
    for (std::size_t i = 4; i-- > 0;) number = (number << 8U) | static_cast<unsigned char>(bytes[at + i]);
    return number;
}

Texts unpacked(std::string_view bytes) {
    Texts texts;
    std::size_t at = 4;
    while (at + 4 <= bytes.size()) {
        const std::size_t length = number_at(bytes, at);
        texts.emplace_back(bytes.substr(at + 4, length));
        at += 4 + length;
    }
    return texts;
}

void append(std::string& bytes, std::size_t number) {
    for (unsigned shift = 0; shift < 32; shift += 8) bytes += static_cast<char>((number >> shift) & 0xFFU);
}

std::string packed(const Texts& texts) {
    std::string bytes;
    append(bytes, texts.size());
    for (const std::string& text : texts) {
        append(bytes, text.size());
        bytes += text;
    }
    return bytes;
}

std::string lines(const Texts& texts) {
    std::string out;
    for (const std::string& text : texts) out += text + "\n";
    return out;
}

std::size_t columns_from(const std::string& text) {
    std::size_t columns = 0;
    for (const char c : text) columns = 10 * columns + static_cast<std::size_t>(c - '0');
    return columns;
}

Texts run(Texts request, Shelf& shelf) {
    const cli::World world = world_over(shelf, request.at(1), columns_from(request.at(2)));
    request.erase(request.begin(), request.begin() + 3);
    shelf.forget_missing();
    cli::CommandResult result = cli::run(request, world);
    Texts reply{std::to_string(result.exit_code), std::move(result.out), std::move(result.err), lines(shelf.missing())};
    for (cli::CommandResult::File& file : result.files) {
        reply.push_back(std::move(file.path));
        reply.push_back(std::move(file.text));
    }
    return reply;
}

Texts answer(Texts request, Shelf& shelf) {
    const std::string& verb = request.at(0);
    if (verb == "run") return run(std::move(request), shelf);
    if (verb == "outline") {
        shelf.forget_missing();
        const cli::World world = world_over(shelf, "", 80);
        std::string json = setup_outline(request.at(1), world.read_file);
        return {std::move(json), lines(shelf.missing())};
    }
    for (std::size_t i = 1; verb == "put" && i + 1 < request.size(); i += 2) shelf.put(request[i], std::move(request[i + 1]));
    for (std::size_t i = 1; verb == "put-away" && i < request.size(); ++i) shelf.put_away(request[i]);
    return {};
}

}  // namespace
}  // namespace plait::web

namespace {
plait::web::Shelf shelf;
std::string request_bytes;
std::string reply_bytes;
}  // namespace

extern "C" {

char* plait_room(std::size_t size);
const char* plait_answer();

/// Room for a request of that many bytes; it holds until the next call.
char* plait_room(std::size_t size) {
    request_bytes.resize(size);
    return request_bytes.data();
}

/// Answers the request that was written there. The reply holds until the next call. What goes wrong inside is said in
/// a reply of one text, which no other reply is but that of "put".
const char* plait_answer() {
    try {
        reply_bytes = plait::web::packed(plait::web::answer(plait::web::unpacked(request_bytes), shelf));
    } catch (const std::exception& e) {
        reply_bytes = plait::web::packed({std::string("internal error: ") + e.what()});
    }
    return reply_bytes.data();
}
}
