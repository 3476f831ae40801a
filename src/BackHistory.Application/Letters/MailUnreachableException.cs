namespace BackHistory.Application.Letters;

/// <summary>Nothing is wrong with a letter: none would get through now.</summary>
public sealed class MailUnreachableException(Exception cause) : Exception(cause.Message, cause);
