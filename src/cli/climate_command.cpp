#include "command.hpp"

#include <plait/input/read_station.hpp>
#include <plait/input/read_weather_file.hpp>
#include <plait/output/data.hpp>
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>

#include <fmt/core.h>

namespace plait::cli {

CommandResult run_command(const ClimateOptions& o, Session& session) {
    std::vector<output::ClimateSource> sources;
    Diagnostics complaints;
    const std::optional<bool> in_the_south = o.south ? std::optional(true) : o.north ? std::optional(false) : std::nullopt;
    for (const std::string& file : o.files) {
        const Result<std::string, std::string> text = session.read_long_file(file);
        if (!text) {
            complaints.push_back({file, 0, 0, Complaint::unreadable, text.error()});
            continue;
        }
        output::ClimateSource source{file, std::nullopt, std::nullopt};
        if (input::looks_like_epw(*text)) {
            Result<WeatherSeries> read = input::read_epw(*text, file);
            if (!read) complaints.insert(complaints.end(), read.error().begin(), read.error().end());
            if (read) source.weather = *std::move(read);
        } else {
            const Result<StationRecord> read = input::read_station(*text, file, o.station);
            if (!read) complaints.insert(complaints.end(), read.error().begin(), read.error().end());
            if (read) source.sheet = study::climate_sheet(*read, in_the_south);
        }
        sources.push_back(std::move(source));
    }
    if (!complaints.empty()) return refused(complaints);
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::climate_json(sources); };
    return shown(Exit::all_within, o.form, session,
                 output::climate_report(sources,
                                        session.provenance(joined(o.files, ", "), o.form)),
                 data);
}

}  // namespace plait::cli
