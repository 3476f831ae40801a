namespace BackHistory.Service.Verbs;

/// <summary>Why a line is not answered.</summary>
/// <param name="code">As in <c>measure</c>, or <c>bad-date</c>.</param>
/// <param name="message">What is wrong and where.</param>
internal sealed class LineRefused(string code, string message) : Exception(message)
{
    internal string Code => code;
}
