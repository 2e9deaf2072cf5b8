using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;

namespace FruitWatch.Service.SignIn;

/// <summary>What is wrong with a new password.</summary>
internal enum PasswordFault
{
    /// <summary>Shorter than <see cref="PasswordRules.Least"/> characters.</summary>
    Short,

    /// <summary>Longer than <see cref="PasswordRules.Most"/> characters.</summary>
    Long,

    /// <summary>Little is left of it beside the person's name or address, the cooperative's, or the service's.</summary>
    Named,

    /// <summary>One of those that everybody tries first, or words that come right after them.</summary>
    Common,

    /// <summary>The same again and again, or a row of keys, letters or numbers.</summary>
    Pattern,
}

/// <summary>
/// Rules for passwords (ASVS 5.0 6.2.1 to 6.2.12): length, and that guessing it would take long. No kinds of characters are asked for; it
/// is taken as it was typed.
/// </summary>
internal sealed class PasswordRules : IPasswordValidator<Account>
{
    public const int Least = 12;
    public const int Most = 128;

    /// <summary>A hundred million guesses [bit].</summary>
    private const double LeastEntropy = 26.6;

    private const int LongestPiece = 40;
    private static readonly char[] s_between = [' ', '.', '-', '_', '@', '+', ','];

    /// <summary>What is wrong with a password; null where nothing is.</summary>
    /// <param name="password">As it was typed.</param>
    /// <param name="about">Names and addresses that an attacker would try with this person.</param>
    public static PasswordFault? FaultOf(string password, IEnumerable<string?> about)
    {
        if (password.Length < Least)
            return PasswordFault.Short;
        if (password.Length > Most)
            return PasswordFault.Long;
        var rest = password;
        // Long ones first, so that a name does not leave the end of a longer one behind.
        foreach (var word in Pieces(about).OrderByDescending(word => word.Length))
            rest = rest.Replace(word, "", StringComparison.OrdinalIgnoreCase);
        if (rest.Length < password.Length && (rest.Length == 0 || Entropy(rest) < LeastEntropy))
            return PasswordFault.Named;
        var once = Once(password);
        if (once.Length < password.Length && (once.Length < Least / 2 || Entropy(once) < LeastEntropy))
            return PasswordFault.Pattern;
        var found = Zxcvbn.Zxcvbn.MatchPassword(Start(password));
        if (found.Entropy >= LeastEntropy)
            return null;
        return found.MatchSequence.Any(part => part.Pattern == "dictionary") ? PasswordFault.Common : PasswordFault.Pattern;
    }

    public Task<IdentityResult> ValidateAsync(UserManager<Account> manager, Account user, string? password) => Task.FromResult(
        FaultOf(password ?? "", [user.Email]) is { } fault
            ? IdentityResult.Failed(new IdentityError { Code = fault.ToString(), Description = Words.For("en").PasswordWrong(fault) })
            : IdentityResult.Success);

    private static double Entropy(string text) => Zxcvbn.Zxcvbn.MatchPassword(Start(text)).Entropy;

    // Looking for words takes longer than the length alone, and what comes after so many characters makes it no weaker.
    private static string Start(string text) => text.Length <= LongestPiece ? text : text[..LongestPiece];

    private static IEnumerable<string> Pieces(IEnumerable<string?> about) => about.Append("FruitWatch").Append("fruit").Append("watch").OfType<string>()
        .SelectMany(text => text.Split(s_between, StringSplitOptions.RemoveEmptyEntries).Append(text))
        .Where(piece => piece.Length >= 3).Distinct(StringComparer.OrdinalIgnoreCase);

    /// <summary>What it repeats, where all of it repeats something.</summary>
    private static string Once(string text)
    {
        for (var length = 1; length <= text.Length / 2; length++)
        {
            var repeats = true;
            for (var i = length; i < text.Length && repeats; i++)
                repeats = text[i] == text[i - length];
            if (repeats)
                return text[..length];
        }

        return text;
    }
}
