using BackHistory.History.Horses;

namespace BackHistory.Store;

/// <summary>What somebody typed to find something, as the parts of a query look for it: one rule for every list.</summary>
internal sealed class TextSearch(string typed)
{
    private const int ShortestIdentity = 6;
    private const int ShortestTelephone = 4;

    private readonly string _text = typed.Trim();

    /// <summary>A pattern of <c>ilike</c>: the text anywhere.</summary>
    public string Anywhere => $"%{Literal(_text)}%";

    /// <summary>A pattern of <c>ilike</c>: the text at the beginning.</summary>
    public string Beginning => $"{Literal(_text)}%";

    /// <summary>A pattern of <c>like</c>: what a microchip or passport has to begin with, however it was typed; of fewer than six
    /// characters none is looked for.</summary>
    public string Identity => HorseIdentity.Plain(_text) is { Length: >= ShortestIdentity } number ? $"{Literal(number)}%" : "";

    /// <summary>A pattern of <c>like</c> for the digits of a telephone number, however it is spaced and with or without the nought
    /// before it; empty where the text is no number.</summary>
    public string Telephone
    {
        get
        {
            var digits = string.Concat(_text.Where(char.IsAsciiDigit)).TrimStart('0');
            return
                digits.Length >= ShortestTelephone
                && _text.All(c => char.IsAsciiDigit(c) || " +-/().".Contains(c, StringComparison.Ordinal))
                ? $"%{digits}%"
                : "";
        }
    }

    /// <summary>The condition that a person is called so, or is reached so.</summary>
    /// <param name="alias">Of the person's table.</param>
    /// <param name="anywhere">The parameter of <see cref="Anywhere"/>.</param>
    /// <param name="telephone">The parameter of <see cref="Telephone"/>.</param>
    public static string Person(string alias, string anywhere, string telephone) =>
        $"({alias}.data ->> 'name' ilike {anywhere} or {alias}.data ->> 'email' ilike {anywhere}"
        + $" or {alias}.data ->> 'phone' ilike {anywhere}"
        + $" or regexp_replace({alias}.data ->> 'phone', '[^0-9]', '', 'g') like {telephone})";

    /// <summary>The condition that a yard <c>y</c> is called so, or lies there.</summary>
    public static string Yard(string anywhere) => $"(y.data ->> 'name' ilike {anywhere} or y.data ->> 'town' ilike {anywhere})";

    /// <summary>The condition that a horse <c>h</c> is called so, or has such a number.</summary>
    public static string Horse(string anywhere, string identity) =>
        $"""
            (h.name ilike {anywhere} or exists (select 1 from history.mt_doc_horseidentity i
              where i.tenant_id = h.tenant_id and i.id = h.id
                and (i.data ->> 'microchip' like {identity} or i.data ->> 'passport' like {identity}
                  or exists (select 1 from jsonb_array_elements_text(coalesce(i.data -> 'further', '[]')) n where n like {identity}))))
            """;

    /// <summary>The condition that a horse <c>h</c>, its owner <c>o</c> or its yard <c>y</c> is meant.</summary>
    /// <param name="parameter">Takes a value and gives its place in the query.</param>
    public string HorseOwnerOrYard(Func<object, string> parameter)
    {
        var anywhere = parameter(Anywhere);
        return $"({Horse(anywhere, parameter(Identity))} or {Person("o", anywhere, parameter(Telephone))} or {Yard(anywhere)})";
    }

    /// <summary>A text that stands for itself in a pattern of <c>like</c>.</summary>
    private static string Literal(string text) =>
        text.Replace("\\", "\\\\", StringComparison.Ordinal)
            .Replace("%", "\\%", StringComparison.Ordinal)
            .Replace("_", "\\_", StringComparison.Ordinal);
}
