namespace BackHistory.Application.Letters;

/// <summary>A letter was refused by whoever was to take it.</summary>
/// <param name="status">Of the reply, as RFC 5321 numbers them.</param>
/// <param name="final">It is about the letter or its reader, and asking again leads nowhere.</param>
public sealed class MailRefusedException(int status, bool final, Exception cause) : Exception(cause.Message, cause)
{
    public int Status => status;

    public bool Final => final;
}
