// Runs a target without libFuzzer: seeds, changed at random with a fixed seed, in builds of any compiler. It learns nothing from
// what an input reaches, so it finds less in a run, but the everyday tests can afford it. Takes libFuzzer's options, as far as
// tests/fuzz/run.sh gives them: `plait_blind_readers --target=setup -seed=1 -runs=1000 -dict=words.dict -artifact_prefix=found/ FOLDER`.
#include <csignal>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include <unistd.h>

extern "C" int LLVMFuzzerInitialize(int* argc, char*** argv);
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size);

namespace {

std::string input;
std::string kept_as;

// Keeps the input, like libFuzzer, whatever ended the program.
void keep_input(int signal) {
    if (std::FILE* file = std::fopen(kept_as.c_str(), "wb")) {
        std::fwrite(input.data(), 1, input.size(), file);
        std::fclose(file);
    }
    std::fprintf(stderr, "SUMMARY: ended by signal %d\nTest unit written to %s\n", signal, kept_as.c_str());
    std::_Exit(1);
}

std::string content_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

// The words of a libFuzzer dictionary: name="text", with \\, \" and \xAB.
std::vector<std::string> words_of(const std::string& path) {
    std::vector<std::string> words;
    std::ifstream in(path);
    for (std::string line; std::getline(in, line);) {
        const std::size_t first = line.find('"');
        const std::size_t last = line.rfind('"');
        if (line.empty() || line.front() == '#' || first == std::string::npos || first == last) continue;
        std::string word;
        for (std::size_t i = first + 1; i < last; ++i) {
            if (line[i] == '\\' && i + 3 < last && line[i + 1] == 'x') {
                word += static_cast<char>(std::stoi(line.substr(i + 2, 2), nullptr, 16));
                i += 3;
            } else {
                if (line[i] == '\\') ++i;
                word += line[i];
            }
        }
        words.push_back(word);
    }
    return words;
}

class Changer {
public:
    Changer(unsigned seed, std::vector<std::string> seeds, std::vector<std::string> words, std::size_t longest)
        : random_(seed), seeds_(std::move(seeds)), words_(std::move(words)), longest_(longest) {}

    std::string next() {
        std::string text = one_of(seeds_);
        const std::size_t changes = below(5);  // none, too: the seeds themselves
        for (std::size_t i = 0; i < changes; ++i) change(text);
        text.resize(std::min(text.size(), longest_));
        return text;
    }

private:
    // Not std::uniform_int_distribution: its numbers are another standard library's own.
    std::size_t below(std::size_t end) { return end == 0 ? 0 : random_() % end; }
    const std::string& one_of(const std::vector<std::string>& all) { return all[below(all.size())]; }

    // From the beginning of a line to its end.
    static std::pair<std::size_t, std::size_t> line_at(const std::string& text, std::size_t at) {
        const std::size_t before = at == 0 ? std::string::npos : text.rfind('\n', at - 1);
        const std::size_t begin = before == std::string::npos ? 0 : before + 1;
        const std::size_t end = text.find('\n', at);
        return {begin, (end == std::string::npos ? text.size() : end + 1) - begin};
    }

    void change(std::string& text) {
        const std::size_t at = below(text.size() + 1);
        const auto [begin, length] = line_at(text, at);
        switch (below(10)) {
            case 0:  // a byte
                if (at < text.size()) text[at] = static_cast<char>(random_());
                break;
            case 1:
                text.insert(at, 1, static_cast<char>(random_()));
                break;
            case 2:
                text.erase(at, 1 + below(20));
                break;
            case 3:
                text.insert(at, one_of(words_));
                break;
            case 4: {  // the word from here on is another
                const std::size_t end = text.find_first_of(" \n\"=,;", at);
                text.replace(at, end == std::string::npos ? end : end - at, one_of(words_));
                break;
            }
            case 5: {  // the number from here on is another
                constexpr std::string_view digits = "0123456789.-";
                const std::size_t first = text.find_first_of(digits, at);
                if (first == std::string::npos) break;
                const std::size_t end = std::min(text.find_first_not_of(digits, first), text.size());
                static const std::vector<std::string> numbers{"0", "-1", "1e9", "1e-9", "0.5", "7", "99", "1000000", "1e400", "nan"};
                text.replace(first, end - first, one_of(numbers));
                break;
            }
            case 6:  // a line less
                text.erase(begin, length);
                break;
            case 7:  // a line twice
                text.insert(begin, text.substr(begin, length));
                break;
            case 8: {  // a line of another seed
                const std::string& other = one_of(seeds_);
                const auto [from, size] = line_at(other, below(other.size() + 1));
                text.insert(begin, other.substr(from, size));
                break;
            }
            default: {  // the rest is another seed's
                const std::string& other = one_of(seeds_);
                text = text.substr(0, at) + other.substr(below(other.size() + 1));
            }
        }
    }

    std::mt19937 random_;
    std::vector<std::string> seeds_;
    std::vector<std::string> words_;
    std::size_t longest_;
};

}  // namespace

int main(int argc, char** argv) {
    LLVMFuzzerInitialize(&argc, &argv);
    std::map<std::string, std::string> options{{"seed", "1"}, {"runs", "1000"}, {"max_len", "4096"}, {"timeout", "60"}};
    std::map<std::string, std::string> files;  // by name, so that the order is the same everywhere
    for (int i = 1; i < argc; ++i) {
        const std::string text = argv[i];
        const std::size_t sign = text.find('=');
        if (text[0] == '-' && sign != std::string::npos) {
            options[text.substr(1, sign - 1)] = text.substr(sign + 1);
        } else if (std::filesystem::is_directory(text)) {
            for (const auto& entry : std::filesystem::directory_iterator(text)) files[entry.path().string()] = content_of(entry.path());
        } else {
            files[text] = content_of(text);
        }
    }
    kept_as = options["artifact_prefix"] + "crash";
    for (const int signal : {SIGABRT, SIGSEGV, SIGFPE, SIGBUS, SIGILL, SIGALRM}) std::signal(signal, keep_input);
    std::vector<std::string> seeds{""};
    for (auto& [name, text] : files) seeds.push_back(std::move(text));
    const unsigned long runs = std::stoul(options["runs"]);
    const auto limit_s = static_cast<unsigned>(std::stoul(options["timeout"]));
    std::vector<std::string> words = words_of(options["dict"]);
    words.emplace_back(1, '\0');
    Changer changer(static_cast<unsigned>(std::stoul(options["seed"])), std::move(seeds), std::move(words), std::stoul(options["max_len"]));
    for (unsigned long run = 0; run < runs; ++run) {
        input = changer.next();
        alarm(limit_s);
        LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
    }
    std::fprintf(stderr, "Done %lu runs\n", runs);
    return 0;
}
