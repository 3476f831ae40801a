using BackHistory.History.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>How letters leave this service.</summary>
public interface IMailSender
{
    /// <summary>The way out, in words for a page.</summary>
    string Way { get; }

    /// <summary>The address that letters come from.</summary>
    string From { get; }

    /// <summary>The same for every attempt at a letter, so that its reader's program shows one.</summary>
    string MessageIdOf(Guid letterId);

    /// <summary>Opens the way; letters go over it one after another.</summary>
    /// <exception cref="MailUnreachableException">It is closed for all letters.</exception>
    Task<IMailTransport> Open(CancellationToken ct);
}

/// <summary>An open way out.</summary>
public interface IMailTransport : IAsyncDisposable
{
    /// <param name="practiceName">Who writes.</param>
    /// <returns>How it went, for the record.</returns>
    /// <exception cref="MailRefusedException">This letter was refused.</exception>
    /// <exception cref="MailUnreachableException">No letter gets through now.</exception>
    Task<string> Send(LetterContent letter, string practiceName, CancellationToken ct);
}

/// <summary>A letter was refused by whoever was to take it.</summary>
/// <param name="status">Of the reply, as RFC 5321 numbers them.</param>
/// <param name="final">It is about the letter or its reader, and asking again leads nowhere.</param>
public sealed class MailRefusedException(int status, bool final, Exception cause) : Exception(cause.Message, cause)
{
    public int Status => status;

    public bool Final => final;
}

/// <summary>Nothing is wrong with a letter: none would get through now.</summary>
public sealed class MailUnreachableException(Exception cause) : Exception(cause.Message, cause);
