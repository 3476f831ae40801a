using BackHistory.History;

namespace BackHistory.Service.Erasing;

/// <summary>Letters that landed as files, where there is no mail server. One folder holds those of every practice.</summary>
internal static class LetterFiles
{
    /// <summary>Names in a letter about an account or an invitation which one it is about: such a letter is no practice's.</summary>
    public const string AboutHeader = "X-About";

    /// <summary>What <see cref="AboutHeader"/> says: an account's own id is told to nobody.</summary>
    public static string About(Guid id) => DeterministicId.From("a letter about", id.ToString()).ToString("N");

    /// <summary>Erases letters by their own ids, after which each file is named, and those about accounts and invitations that are gone.
    /// What stands in them is not read.</summary>
    /// <param name="letters">Of one person in one practice.</param>
    /// <param name="about">Ids of accounts and invitations.</param>
    /// <returns>How many.</returns>
    public static int Erase(string folder, IReadOnlyList<Guid> letters, IReadOnlyList<Guid> about)
    {
        if (!Directory.Exists(folder))
            return 0;
        var (mine, gone) = (letters.ToHashSet(), about.Select(a => $"{AboutHeader}: {About(a)}").ToHashSet(StringComparer.Ordinal));
        var erased = 0;
        foreach (var file in Directory.EnumerateFiles(folder, "*.eml", SearchOption.AllDirectories))
        {
            if (!Guid.TryParse(Path.GetFileNameWithoutExtension(file), out var id) || !mine.Contains(id))
            {
                // Headers end with the first empty line.
                if (gone.Count == 0 || !File.ReadLines(file).TakeWhile(l => l.Length > 0).Any(gone.Contains))
                    continue;
            }

            File.Delete(file);
            erased++;
        }

        return erased;
    }
}
