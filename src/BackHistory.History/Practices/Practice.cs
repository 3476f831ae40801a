using System.Collections.Immutable;
using BackHistory.History.Reminders;
using BackHistory.Trends;

namespace BackHistory.History.Practices;

/// <summary>The practice's own rules as they stand, with their versions.</summary>
public sealed partial record Practice
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public string Name { get; init; } = "";

    public string TimeZone { get; init; } = "Etc/UTC";

    /// <summary>The data are invented: every page says so.</summary>
    public bool Invented { get; init; }

    public int RulesVersion { get; init; } = 1;

    public WatchRules Rules { get; init; } = WatchRules.Default;

    public int ReminderRulesVersion { get; init; } = 1;

    /// <summary>Which reminders are raised, and when people hear of them.</summary>
    public ReminderRules ReminderRules { get; init; } = ReminderRules.Default;

    /// <summary>The practice's own letters, by <see cref="LetterTemplateChanged.KeyOf"/>; a kind that is not here is written as shipped.</summary>
    public ImmutableSortedDictionary<string, OwnTemplate> Templates { get; init; } = ImmutableSortedDictionary<string, OwnTemplate>.Empty;

    public int ProtocolVersion { get; init; } = 1;

    public IReadOnlyList<Station> Stations { get; init; } = Protocols.Default;

    public static Practice Create(PracticeFounded e) => new() { Id = e.PracticeId, Name = e.Name, TimeZone = e.TimeZone, Invented = e.Invented };

    public Practice Apply(WatchRulesChanged e) => this with { RulesVersion = e.RulesVersion, Rules = e.Rules };

    public Practice Apply(ReminderRulesChanged e) => this with { ReminderRulesVersion = e.ReminderRulesVersion, ReminderRules = e.Rules };

    public Practice Apply(LetterTemplateChanged e) => this with
    {
        Templates = e.Source is null ? Templates.Remove(e.Key) : Templates.SetItem(e.Key, new OwnTemplate(e.TemplateVersion, e.Source)),
    };

    public Practice Apply(ProtocolChanged e) => this with { ProtocolVersion = e.ProtocolVersion, Stations = e.Stations };
}

/// <param name="Version">Counts the practice's versions of this letter.</param>
public sealed record OwnTemplate(int Version, string Source);

/// <summary>The protocol that a practice starts with (method.md, section 1).</summary>
public static class Protocols
{
    /// <summary>T8, T13 and T18 are the sites of the published longitudinal study (Greve &amp; Dyson 2014); 102 mm is common practice, no source.</summary>
    public static IReadOnlyList<Station> Default { get; } =
    [
        new("shoulder", "over the widest part of the shoulder blade", null),
        new("behind-shoulder", "102 mm behind the shoulder station, about the 8th thoracic vertebra (T8)", 102),
        new("mid-back", "T13, counted forward from the last rib", null),
        new("last-rib", "T18, found by palpation; the saddle should not bear behind it", null),
    ];
}
