using System.Collections.Immutable;

namespace BackHistory.History.Horses;

/// <summary>By what a horse is told from every other: kept outside the events, because its numbers lead to its owner and must be
/// erasable.</summary>
/// <param name="Id">The horse's.</param>
public sealed record HorseIdentity(Guid Id) : IVersionedDocument<HorseIdentity>
{
    public const int LongestPassport = 40;

    /// <inheritdoc/>
    public long Version { get; init; } = 1;

    /// <summary>The 15 digits that a reader shows (ISO 11784), without spaces; null where none is known.</summary>
    public string? Microchip { get; init; }

    /// <summary>As the passport has it: a UELN of 15 characters, or the issuer's own number; without spaces, in capitals.</summary>
    public string? Passport { get; init; }

    /// <summary>Numbers of second registrations that were merged into this one and said something else: one of the two was read wrongly,
    /// or the horse has two.</summary>
    public ImmutableList<string> Further { get; init; } = [];

    public bool IsEmpty => Microchip is null && Passport is null && Further.IsEmpty;

    /// <summary>Every number that is known, the horse's own first.</summary>
    public IEnumerable<string> Numbers => new[] { Microchip, Passport }.OfType<string>().Concat(Further);

    /// <summary>With what a second registration of the same horse was told by: what is not known yet takes its place, what says something
    /// else is kept beside it.</summary>
    public HorseIdentity Taking(HorseIdentity second)
    {
        var both = this with { Microchip = Microchip ?? second.Microchip, Passport = Passport ?? second.Passport };
        var own = new[] { both.Microchip, both.Passport };
        return both with
        {
            Further =
            [
                .. Further.Concat(second.Numbers).Where(n => !own.Contains(n, StringComparer.Ordinal)).Distinct(StringComparer.Ordinal),
            ],
        };
    }

    /// <inheritdoc/>
    public HorseIdentity At(long version) => this with { Version = version };

    /// <summary>A number as it is kept and looked for; null where nothing was typed.</summary>
    public static string? Plain(string? typed)
    {
        var plain = string.Concat((typed ?? "").Where(c => !char.IsWhiteSpace(c) && c is not ('-' or '.' or '/'))).ToUpperInvariant();
        return plain.Length == 0 ? null : plain;
    }

    /// <summary>Why it cannot be kept; null when it can.</summary>
    public Refused? Problem() =>
        Microchip is { } chip && (chip.Length != 15 || !chip.All(char.IsAsciiDigit))
            ? new Refused("bad-microchip", "A microchip has 15 digits, as the reader shows them.", Place: "microchip")
        : Passport is { } number && (number.Length is < 4 or > LongestPassport || !number.All(char.IsAsciiLetterOrDigit))
            ? new Refused(
                "bad-passport",
                $"A passport's number has 4 to {LongestPassport} letters and digits, as on its first page.",
                Place: "passport"
            )
        : null;
}
