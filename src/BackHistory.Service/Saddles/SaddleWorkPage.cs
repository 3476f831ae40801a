using BackHistory.Application.Saddles;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Saddles;
using BackHistory.Service.Web;
using Microsoft.AspNetCore.Components;

namespace BackHistory.Service.Saddles;

/// <summary>A page on which a piece of work is told: what was set, altered or flocked, on which day, by whom.</summary>
public abstract class SaddleWorkPage : SaddleFormPage
{
    internal static readonly string[] FlockedPlaces =
    [
        "front left",
        "front right",
        "middle left",
        "middle right",
        "back left",
        "back right",
    ];

    private const int MostVisits = 30;

    [Inject]
    public SaddleProposals Proposals { get; set; } = null!;

    [SupplyParameterFromForm(FormName = "work")]
    public SaddleWorkForm? Form { get; set; }

    /// <summary>set, altered or flocked.</summary>
    [SupplyParameterFromQuery]
    public string? Kind { get; set; }

    [SupplyParameterFromQuery]
    public Guid? Horse { get; set; }

    /// <summary>The horse whose visits are offered, and whose tracing is proposed from.</summary>
    internal HorseProfile? About { get; private set; }

    internal IReadOnlyList<VisitRecord> Visits { get; private set; } = [];

    internal IReadOnlyList<Person> Fitters { get; private set; } = [];

    internal SaddleProposal? Proposal { get; private set; }

    /// <summary>The other horses on which it is in use.</summary>
    internal IReadOnlyList<string> Elsewhere { get; private set; } = [];

    internal abstract string KindOfWork { get; }

    internal bool IsFlocking => KindOfWork == "flocked";

    /// <summary>Where a side of the tree stood before.</summary>
    internal abstract string? Stood(string side);

    /// <summary>What the latest tracing asks of a side; null where nothing is proposed.</summary>
    internal virtual string? Proposed(string side) => Proposal?.MarkFor(side);

    /// <summary>Reads what the page shows of the horse that the work was for.</summary>
    /// <param name="horse">Null where it is to be chosen yet.</param>
    protected async Task ReadAbout(Guid? horse)
    {
        await Offer(horse);
        Fitters = await Practices.InRole(Who.Practice, PersonRole.Fitter, CancellationToken.None);
        if (horse is not { } id || await Horses.Profile(Who.Practice, id, CancellationToken.None) is not { Gone: false } profile)
            return;
        About = profile;
        Elsewhere = Saddle!.IsOn(id) ? [] : [.. Saddle.OnHorses().Select(Name)];
        Visits =
        [
            .. (await Horses.Visits(Who.Practice, id, CancellationToken.None) ?? [])
                .Where(v => !v.Withdrawn)
                .OrderByDescending(v => v.TakenAt)
                .Take(MostVisits),
        ];
        Proposal = await Proposals.Load(Who.Practice, SaddleId, id, CancellationToken.None);
    }

    /// <summary>The last visit with a tracing where the saddle lies.</summary>
    protected VisitRecord? LastTraced =>
        Visits.FirstOrDefault(v => v.Standing().Any(m => m.Station == Protocols.UsualOf(Practice.Stations)));

    /// <summary>The work as it was typed, or null where some of it cannot be taken: then the page says what.</summary>
    /// <param name="before">The time of the work that is put right, for a day that stays the same.</param>
    protected async Task<WorkDone?> Typed(Guid workId, FieldReader fields, DateTimeOffset? before)
    {
        var form = Form!;
        var horse = await HorseOf(fields, form);
        var by = fields.Id("by", form.By);
        var visit = fields.Id("visit", form.Visit);
        // What was offered – the visits, where the tree stood, what is proposed – is of the horse that the page was about.
        var isAbout = horse == About?.Id;
        if (!isAbout)
            visit = null;
        var day = fields.Day("day", form.Day);
        var done = new List<Adjustment>();
        if (!IsFlocking)
        {
            foreach (
                var (side, to, proposed, why) in new[]
                {
                    ("left", form.Left, form.ProposedLeft, form.WhyLeft),
                    ("right", form.Right, form.ProposedRight, form.WhyRight),
                }
            )
                Tree(fields, done, side, to, (isAbout || before is not null ? Stood(side) : null, isAbout ? proposed : null, why));
            Add(done, "panel", null, form.Panel);
            foreach (var (i, part) in Saddle!.Parts.Index())
                Part(fields, done, part, i, form.Parts.ElementAtOrDefault(i));
        }

        var flocking = IsFlocking ? Flocked(fields, done) : null;
        Add(done, Adjustment.Note, null, form.Note);
        return Taken(fields)
            ? new WorkDone(
                workId,
                horse!.Value,
                visit,
                KindOfWork == "set",
                !IsFlocking && form.Fresh,
                done,
                At(day, visit, before),
                by,
                flocking,
                form.OnBoth
            )
            : null;
    }

    protected override string FieldOf(string place) =>
        place switch
        {
            "onBoth" => "both",
            _ => base.FieldOf(place),
        };

    /// <param name="beside">What the page knew and asked beside the field.</param>
    private void Tree(
        FieldReader fields,
        List<Adjustment> done,
        string side,
        string? typed,
        (string? Stood, string? Proposed, string? Why) beside
    )
    {
        if (FieldReader.Text(typed) is not { } to)
            return;
        var because = FieldReader.Text(beside.Why);
        var asked = FieldReader.Text(beside.Proposed);
        var set = new Adjustment("tree", side, beside.Stood, to, Gauge?.Key, asked, asked == to ? null : because);
        if (Gauge is not null && SaddleRefusals.OfMark(Gauge, to) is { } bad)
            fields.Needed($"to-{side}", null, bad.Message);
        else if (SaddleRefusals.OfProposal(set) is { } silent)
            fields.Needed($"why-{side}", null, silent.Message);
        done.Add(set);
    }

    private void Part(FieldReader fields, List<Adjustment> done, SaddlePart part, int number, string? typed)
    {
        if (FieldReader.Text(typed) is not { } to)
            return;
        if (part.Gauge is { } key && Practice.Gauges.TryGetValue(key, out var gauge) && SaddleRefusals.OfMark(gauge, to) is { } bad)
            fields.Needed($"part-{number}", null, bad.Message);
        done.Add(new Adjustment(part.Part, part.Side, null, to, part.Gauge));
    }

    private Flocking? Flocked(FieldReader fields, List<Adjustment> done)
    {
        var material = fields.Needed("material", Form!.Material, "Say with what, for example wool.");
        var whole = Form.Extent == "whole";
        if (Form.Extent is not ("whole" or "places"))
            fields.Needed("extent", null, "Say whether all of it was done anew or some was added.");
        var places = Form.Places.Where(p => p.Added).Select(p => p.Name).ToHashSet(StringComparer.Ordinal);
        if (Form.Extent == "places" && places.Count == 0)
            fields.Needed("places", null, "Tick where flocking was added.");
        if (!whole)
        {
            foreach (var place in FlockedPlaces.Where(places.Contains))
            {
                var words = place.Split(' ');
                done.Add(new Adjustment($"panel-{words[0]}", words[1], null, "flocking added"));
            }
        }

        Add(done, "panel", null, Form.Panel);
        return new Flocking(material, whole);
    }

    private static void Add(List<Adjustment> done, string part, string? side, string? typed)
    {
        if (FieldReader.Text(typed) is { } to)
            done.Add(new Adjustment(part, side, null, to));
    }

    private DateTimeOffset At(DateOnly? day, Guid? visit, DateTimeOffset? before)
    {
        if (before is { } was && (day is null || day == PracticeClock.Day(Practice, was)))
            return was;
        if (day is not { } then)
            return Time.GetUtcNow();
        // After the tracing that it was made to, where that is of the same day.
        if (Visits.FirstOrDefault(v => v.Id == visit) is { } seen && PracticeClock.Day(Practice, seen.TakenAt) == then)
            return seen.TakenAt;
        return then == Today ? Time.GetUtcNow() : ZoneClock.At(then, TimeOnly.MinValue, PracticeClock.Zone(Practice));
    }
}
