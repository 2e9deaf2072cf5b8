namespace FruitWatch.Service.SignIn;

/// <summary>Where people sign in, and the addresses that mails and the terminal give out for it.</summary>
internal static class SignInAddresses
{
    public const string SignIn = "/sign-in";
    public const string SecondFactor = "/sign-in/second-factor";
    public const string Advice = "/sign-in/advice";
    public const string Forgotten = "/sign-in/forgotten";
    public const string Reset = "/sign-in/reset";
    public const string Membership = "/sign-in/membership";
    public const string SignOut = "/sign-out";
    public const string Security = "/account/security";
    public const string Codes = "/account/security/second-factor";
    public const string Passkeys = "/account/security/passkeys";
    public const string Address = "/account/address";

    /// <summary>Where somebody accepts an invitation; of its secret only the hash is kept, see <see cref="Access.Secrets"/>.</summary>
    public static string Invitation(Uri baseUrl, string secret) => Of(baseUrl, $"/invitation/{secret}");

    /// <summary>Where the first account is made.</summary>
    public static string Setup(Uri baseUrl, string code) => Of(baseUrl, $"/setup/{code}");

    /// <summary>A page of ours with the address at which people reach it.</summary>
    public static string Of(Uri baseUrl, string path) => baseUrl.AbsoluteUri.TrimEnd('/') + path;
}
