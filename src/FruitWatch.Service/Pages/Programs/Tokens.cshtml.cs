using FruitWatch.Service.Access;
using FruitWatch.Service.Text;
using FruitWatch.Service.Tokens;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Pages.Programs;

/// <summary>Tokens by which programs act for the visitor; for who manages the cooperative, those of the other members too.</summary>
[Right(Right.OwnAccount)]
internal sealed class TokensModel(FruitWatchStore store, TokenShelf shelf, Visitor visitor, Words words, IClock clock) : PageModel
{
    private const int MostShown = 200;

    public static readonly IReadOnlyList<int> Offered = [30, TokenShelf.UsualDays, 180, TokenShelf.MostDays];

    private readonly Dictionary<string, string> errors = [];

    public IReadOnlyList<ApiToken> Own { get; private set; } = [];

    public IReadOnlyList<(ApiToken Token, string Person)> Others { get; private set; } = [];

    public bool SeesOthers => visitor.May(Right.ManageCooperative);

    public IReadOnlyList<string> Scopes => shelf.Offered;

    /// <summary>The token that was just made, and its text; null where none was.</summary>
    public (string Name, string Text)? Made { get; private set; }

    public bool Revoked { get; private set; }

    public string Name { get; private set; } = "";

    public IReadOnlyList<string> Chosen { get; private set; } = ["read"];

    public int Days { get; private set; } = TokenShelf.UsualDays;

    /// <summary>What is wrong, by field.</summary>
    public IReadOnlyDictionary<string, string> Errors => errors;

    public TokenState StateOf(ApiToken token) => TokenShelf.StateOf(token, clock.GetCurrentInstant());

    public LocalDate DayOf(Instant moment) =>
        moment.InZone(visitor.Person?.ZoneId is { } zone && DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is { } own ? own : DateTimeZone.Utc).Date;

    public Task OnGetAsync(string? done, CancellationToken stop)
    {
        Revoked = done == "revoked";
        return LoadAsync(stop);
    }

    [Asks(Right.OwnAccount)]
    public async Task<IActionResult> OnPostAsync(string? name, string[]? scope, int days, CancellationToken stop)
    {
        Name = name?.Trim() ?? "";
        Chosen = scope ?? [];
        Days = Offered.Contains(days) ? days : TokenShelf.UsualDays;
        if (Name.Length is 0 or > TokenShelf.LongestName || Name.Any(char.IsControl))
            errors["name"] = words.TokensNameMissing(TokenShelf.LongestName);
        if (!Chosen.Any(Scopes.Contains))
            errors["scopes"] = words.TokensScopeMissing;
        if (errors.Count == 0)
        {
            if (await shelf.MakeAsync(Name, Scopes.Where(Chosen.Contains), Days, stop) is var (_, text))
                (Made, Name, Chosen) = ((Name, text), "", ["read"]);
            else
                errors["name"] = words.TokensTooMany(TokenShelf.Most);
        }

        // The secret is in this answer and nowhere else: it is not kept by anybody on the way.
        Response.Headers.CacheControl = "no-store";
        if (errors.Count > 0)
            Response.StatusCode = StatusCodes.Status400BadRequest;
        await LoadAsync(stop);
        return Page();
    }

    [Asks(Right.OwnAccount)]
    public async Task<IActionResult> OnPostRevokeAsync(long id, CancellationToken stop)
    {
        if (await shelf.FindAsync(id, stop) is not { } token)
            return NotFound();
        await shelf.RevokeAsync(token, stop);
        return RedirectToPage(new { done = "revoked" });
    }

    private async Task LoadAsync(CancellationToken stop)
    {
        Own = await shelf.Tokens(everybody: false).AsNoTracking().Take(MostShown).ToListAsync(stop);
        if (!SeesOthers)
            return;
        var own = visitor.Person!.Id;
        var others = await shelf.Tokens(everybody: true).AsNoTracking().Where(token => token.PersonId != own).Take(MostShown).ToListAsync(stop);
        var names = await store.People.AsNoTracking().ToDictionaryAsync(person => person.Id, person => person.Name, stop);
        Others = [.. others.Select(token => (token, names.GetValueOrDefault(token.PersonId, "")))];
    }
}
