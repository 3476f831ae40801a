namespace BackHistory.Service.Access;

/// <summary>How somebody proved who they are (names of RFC 8176 where it has one).</summary>
public static class SignInMethods
{
    public const string Claim = "amr";
    public const string Password = "pwd";
    public const string SecondFactor = "mfa";

    /// <summary>Something held (the device) and something known or one's own (its lock): two factors in one.</summary>
    public const string Passkey = "passkey";

    /// <summary>Whether this way of signing in used two factors.</summary>
    public static bool AreTwo(string method) => method is SecondFactor or Passkey;
}
