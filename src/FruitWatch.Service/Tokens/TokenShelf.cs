using FruitWatch.Service.Access;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tokens;

/// <summary>
/// Makes tokens and takes them back. Nobody gives a program more than they may themselves, and a program no other one more than it
/// has itself.
/// </summary>
internal sealed class TokenShelf(FruitWatchStore store, Visitor visitor, IClock clock)
{
    public const int LongestName = 80;
    public const int MostDays = 365;
    public const int UsualDays = 90;

    /// <summary>Good tokens that a person may have.</summary>
    public const int Most = 50;

    /// <summary>Scopes that the visitor may give on: those of which they have every right, or, of what their role leaves, at least one.</summary>
    public IReadOnlyList<string> Offered => [.. Rights.OfScope.Where(scope => scope.Value.Any(visitor.May)).Select(scope => scope.Key)];

    /// <summary>The visitor's own, the last made first; with everybody's where asked for.</summary>
    public IQueryable<ApiToken> Tokens(bool everybody)
    {
        var own = visitor.Person!.Id;
        return store.ApiTokens.Where(token => everybody || token.PersonId == own).OrderByDescending(token => token.Id);
    }

    /// <summary>One that the visitor may see.</summary>
    public Task<ApiToken?> FindAsync(long id, CancellationToken stop) =>
        Tokens(visitor.May(Right.ManageCooperative)).SingleOrDefaultAsync(token => token.Id == id, stop);

    /// <summary>Makes one, and the text that is shown once; null where there are enough.</summary>
    public async Task<(ApiToken Token, string Text)?> MakeAsync(string name, IEnumerable<string> scopes, int days, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        if (await Tokens(everybody: false).CountAsync(token => token.RevokedAt == null && token.ExpiresAt > now, stop) >= Most)
            return null;
        var secret = Secrets.Draw();
        var token = new ApiToken
        {
            CooperativeId = visitor.Person!.CooperativeId,
            PersonId = visitor.Person.Id,
            Name = name,
            Hash = Secrets.Hash(secret),
            Scopes = string.Join(' ', scopes.Where(Offered.Contains)),
            MadeAt = now,
            ExpiresAt = now + Duration.FromDays(days),
        };
        store.ApiTokens.Add(token);
        await store.SaveChangesAsync(stop);
        return (token, TokenScheme.Text(token, secret));
    }

    /// <summary>Takes one back; nothing happens to one that is no longer good.</summary>
    public async Task RevokeAsync(ApiToken token, CancellationToken stop)
    {
        token.RevokedAt ??= clock.GetCurrentInstant();
        await store.SaveChangesAsync(stop);
    }

    public static IReadOnlyList<string> ScopesOf(ApiToken token) => token.Scopes.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    public static TokenState StateOf(ApiToken token, Instant now) =>
        token.RevokedAt is not null ? TokenState.Revoked : token.ExpiresAt <= now ? TokenState.Expired : TokenState.Good;
}
