using FruitWatch.Service.Tokens;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>Tokens of programs.</summary>
internal abstract partial class Words
{
    public abstract string TokensTitle { get; }

    public abstract string TokensLead { get; }

    public abstract string TokensHowTo { get; }

    public abstract string TokensMade(string name);

    public abstract string TokensShownOnce { get; }

    public abstract string TokensMakeOne { get; }

    public abstract string TokensName { get; }

    public abstract string TokensNameHint { get; }

    public abstract string TokensScopes { get; }

    public abstract string TokensDays { get; }

    public abstract string TokensForDays(int days);

    public abstract string TokensMake { get; }

    public abstract string TokensYours { get; }

    public abstract string TokensOfOthers { get; }

    public abstract string TokensNone { get; }

    public abstract string TokensRevoke { get; }

    public abstract string TokensRevokeNamed(string name);

    public abstract string TokensRevokeMeans { get; }

    public abstract string TokensRevoked { get; }

    public abstract string TokensUntil(LocalDate day);

    public abstract string TokensLastUsed(LocalDate? day);

    public abstract string TokensOf(string person);

    public abstract string TokensTooMany(int most);

    public abstract string TokensNameMissing(int most);

    public abstract string TokensScopeMissing { get; }

    public abstract string TokensScope(string scope);

    public abstract string ApiTitle { get; }

    public abstract string ApiLead { get; }

    public abstract string ApiOperations { get; }

    public abstract string NameOf(TokenState state);
}
