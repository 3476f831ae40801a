using BackHistory.History.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>An open way out.</summary>
public interface IMailTransport : IAsyncDisposable
{
    /// <param name="practiceName">Who writes.</param>
    /// <returns>How it went, for the record.</returns>
    /// <exception cref="MailRefusedException">This letter was refused.</exception>
    /// <exception cref="MailUnreachableException">No letter gets through now.</exception>
    Task<string> Send(LetterContent letter, string practiceName, CancellationToken ct);
}
