// Names of what reports, data and pictures are made of: their headers are included by whoever makes or reads one.
#pragma once

namespace plait {
struct Assumption;
struct Controller;
struct Input;
struct Setup;
struct Site;
}  // namespace plait

namespace plait::physics {
struct OperatingPoint;
struct PowerPoint;
}  // namespace plait::physics

namespace plait::rules {
struct Condition;
}  // namespace plait::rules

namespace plait::study {
struct Answers;
struct Caution;
struct ChargeSheet;
struct ClearDays;
struct CurveSheet;
struct Harvest;
struct HarvestAccount;
struct HarvestSheet;
struct HotSpot;
struct InputCurve;
struct InputJudgement;
struct Judgement;
struct LookUpList;
struct PanelSheet;
struct PartLine;
struct StepList;
class SystemModel;
struct Verdict;
struct WindowMap;
}  // namespace plait::study

namespace plait::search {
struct Advised;
struct Arrangement;
struct Asked;
struct Comparison;
struct Searched;
}  // namespace plait::search

namespace plait::measured {
struct BenchPlan;
struct CommissioningCard;
struct Diagnosis;
struct ExplainedRow;
class FieldModel;
struct LearnSheet;
struct LogAccount;
class LogSeries;
}  // namespace plait::measured

namespace plait::output {
struct ClimateSource;
struct EnergyTime;
struct ExplainedLog;
struct HarvestSubject;
struct NamedSetup;
}  // namespace plait::output
