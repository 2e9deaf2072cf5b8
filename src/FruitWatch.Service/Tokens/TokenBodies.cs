using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tokens;

/// <summary>A token as the API gives it.</summary>
[Description("A token by which a program acts for a person. Its secret is not told again.")]
internal sealed record TokenBody(
    [property: Description("Key; the number in the token itself.")] long Id,
    [property: Description("Key of the person it acts for.")] long PersonId,
    [property: Description("What its maker calls it.")] string Name,
    [property: Description("What it is good for, as far as the person's role reaches.")] IReadOnlyList<string> Scopes,
    [property: Description("Where it stands.")] TokenState State,
    [property: Description("When it was made.")] Instant MadeAt,
    [property: Description("No longer good from then on.")] Instant ExpiresAt,
    [property: Description("When it was last used, to the nearest five minutes; null where it never was.")] Instant? LastUsedAt,
    [property: Description("When it was taken back; null where it was not.")] Instant? RevokedAt)
{
    public static TokenBody Of(ApiToken token, Instant now) => new(
        token.Id, token.PersonId, token.Name, TokenShelf.ScopesOf(token), TokenShelf.StateOf(token, now), token.MadeAt, token.ExpiresAt, token.LastUsedAt, token.RevokedAt);
}

/// <summary>A token that was made.</summary>
[Description("A token that was made. This is the only time that it is told.")]
internal sealed record TokenMadeBody(
    [property: Description("The token: send it as Authorization: Bearer. Keep it where only your program can read it. Null where the answer is given again under an Idempotency-Key: it is not kept.")] string? Token,
    [property: Description("Key; the number in the token itself.")] long Id,
    [property: Description("What its maker calls it.")] string Name,
    [property: Description("What it is good for, as far as the person's role reaches.")] IReadOnlyList<string> Scopes,
    [property: Description("No longer good from then on.")] Instant ExpiresAt);

/// <summary>A token as it is asked for.</summary>
[Description("A token as it is asked for.")]
internal sealed record TokenAsked(
    [property: Description("What it is for, so that you know it again; 1 to 80 characters.")] string Name,
    [property: Description("What it is good for: read, log, beds, sites, feeds, people, cooperative, account. None that your role, or the token that asks, does not have.")] IReadOnlyList<string> Scopes,
    [property: Description("Days that it is good for, 1 to 365; 90 where left out.")] int? Days) : IReadBody<TokenAsked>
{
    public static TokenAsked Read(JsonFields fields) => new(
        fields.Text("name", TokenShelf.LongestName, required: true) ?? "",
        fields.TextWords("scopes", Rights.OfScope.Keys, required: true) ?? [],
        fields.Number("days", 1, TokenShelf.MostDays) is { } days ? Whole(fields, days) : null);

    private static int Whole(JsonFields fields, double days)
    {
        if (days != Math.Truncate(days))
            fields.Refuse("days", $"Expected a whole number from 1 to {TokenShelf.MostDays}.");
        return (int)days;
    }
}

/// <summary>Where a token stands.</summary>
internal enum TokenState
{
    /// <summary>It opens what its scopes say.</summary>
    Good,

    /// <summary>Its time is over.</summary>
    Expired,

    /// <summary>It was taken back.</summary>
    Revoked,
}
