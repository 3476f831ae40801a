using System.Globalization;
using System.Text.Json;
using BackHistory.Trends.Robust;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Trends.Lines;

/// <summary>One line of the verb <c>trend</c> (commands.md): JSON in, JSON out.</summary>
public static class TrendLine
{
    /// <param name="line">One JSON object.</param>
    /// <param name="lineNumber">Told in the answer to a line whose id cannot be read; the first is 1.</param>
    public static (string Json, bool Refused) Answer(string line, int lineNumber)
    {
        using var document = AnswerLine.Parse(line, out var refusal);
        if (document is null)
            return (AnswerLine.Refused(null, lineNumber, refusal!), true);
        var reader = new LineReader();
        var request = TrendRequest.Read(document.RootElement, reader);
        if (request is not null && TrendAnswer.AnswerTo(request) is { } answer && answer.IsFinite)
            return (answer.ToJson(), false);
        refusal = reader.Fault ?? new(RefusalCode.NotFinite, "The numbers are too large to compute with.");
        return (AnswerLine.Refused(AnswerLine.IdOf(document.RootElement), lineNumber, refusal), true);
    }
}

internal sealed record TrendAnswer(
    string Id,
    double? Q,
    Uncertain? Level,
    Uncertain? Slope,
    Uncertain? Change,
    Decision? Decision,
    Forecast? Forecast,
    SenSlope? TheilSen,
    KendallTest? MannKendall,
    VisitDifference? TwoVisits
)
{
    internal static TrendAnswer AnswerTo(TrendRequest request)
    {
        var trend = TrendFit.Fit(request.Points, request.Noise, request.Q);
        var change = request.Baseline is { } from ? trend.Change(from, request.At) : null;
        var (decision, forecast) =
            change is not null && request.Threshold is { } threshold
                ? (Decision.Decide(change, threshold), Forecast.Predict(trend, request.Baseline!.Value, threshold, request.At))
                : default;
        return new(
            request.Id,
            trend.Q,
            trend.Level(request.At),
            trend.Slope(request.At),
            change,
            decision,
            forecast,
            RobustTrend.TheilSen(request.Points),
            RobustTrend.MannKendall(request.Points),
            Robust.TwoVisits.Compare(request.Points, request.Noise, request.At, request.Baseline)
        );
    }

    internal bool IsFinite
    {
        get
        {
            double?[] all =
            [
                Q,
                Level?.Value,
                Level?.Sd,
                Slope?.Value,
                Slope?.Sd,
                Change?.Value,
                Change?.Sd,
                Decision?.P,
                TheilSen?.PerDay,
                TheilSen?.Low,
                TheilSen?.High,
                MannKendall?.P,
                TwoVisits?.Change,
                TwoVisits?.MinimalDetectable,
            ];
            return Array.TrueForAll(all, v => v is null || double.IsFinite(v.Value));
        }
    }

    internal string ToJson() =>
        AnswerLine.Write(json =>
        {
            json.WriteString("id", Id);
            json.Number("q", Q);
            json.Number("level", Level?.Value);
            json.Number("levelSd", Level?.Sd);
            json.Number("slopePerDay", Slope?.Value);
            json.Number("slopeSd", Slope?.Sd);
            Part(
                json,
                "sinceBaseline",
                Change is not null,
                () =>
                {
                    json.Number("change", Change!.Value);
                    json.Number("sd", Change.Sd);
                    json.Number("p", Decision?.P);
                    json.WriteString("state", Decision is null ? null : Name(Decision.State));
                }
            );
            Part(
                json,
                "forecast",
                Forecast is not null,
                () =>
                {
                    json.WriteString("from", Date(Forecast!.From));
                    json.WriteString("reached", Date(Forecast.Reached));
                    json.WriteString("to", Date(Forecast.To));
                }
            );
            Part(
                json,
                "theilSen",
                TheilSen is not null,
                () =>
                {
                    json.Number("perDay", TheilSen!.PerDay);
                    json.Number("low", TheilSen.Low);
                    json.Number("high", TheilSen.High);
                }
            );
            Part(
                json,
                "mannKendall",
                MannKendall is not null,
                () =>
                {
                    json.Number("s", MannKendall!.S);
                    json.Number("p", MannKendall.P);
                }
            );
            Part(
                json,
                "twoVisits",
                TwoVisits is not null,
                () =>
                {
                    json.Number("change", TwoVisits!.Change);
                    json.Number("minimalDetectable", TwoVisits.MinimalDetectable);
                }
            );
        });

    static void Part(Utf8JsonWriter json, string name, bool known, Action body)
    {
        if (!known)
        {
            json.WriteNull(name);
            return;
        }
        json.WriteStartObject(name);
        body();
        json.WriteEndObject();
    }

    static string Name(WatchState state) =>
        state switch
        {
            WatchState.Refit => "refit",
            WatchState.Unknown => "unknown",
            WatchState.Watch => "watch",
            _ => "steady",
        };

    static string? Date(DateOnly? date) => date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
