using FruitWatch.Service.Tokens;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>Tokens of programs.</summary>
internal sealed partial class Spanish
{
    public override string TokensTitle => "Claves de programas";

    public override string TokensLead => "Con una clave un programa lee y escribe por usted: nunca más de lo que usted puede, y solo lo que marque.";

    public override string TokensHowTo => "Cómo usan los programas la API web";

    public override string TokensMade(string name) => $"La clave «{name}»";

    public override string TokensShownOnce => "Cópiela ahora: se muestra esta única vez y no se puede consultar después. Quien la tenga puede hacer lo que permite.";

    public override string TokensMakeOne => "Una clave nueva";

    public override string TokensName => "Para qué es";

    public override string TokensNameHint => "Por ejemplo: pluviómetro del huerto";

    public override string TokensScopes => "Qué puede hacer";

    public override string TokensDays => "Sirve durante";

    public override string TokensForDays(int days) => days == 365 ? "un año" : $"{days} días";

    public override string TokensMake => "Crear la clave";

    public override string TokensYours => "Sus claves";

    public override string TokensOfOthers => "Claves de otros miembros";

    public override string TokensNone => "No hay ninguna.";

    public override string TokensRevoke => "Retirar";

    public override string TokensRevokeNamed(string name) => $"Retirar «{name}»";

    public override string TokensRevokeMeans => "El programa que la usa queda fuera de inmediato. No se puede deshacer.";

    public override string TokensRevoked => "La clave se retiró. Ya no abre nada.";

    public override string TokensUntil(LocalDate day) => $"Hasta el {Date(day)}";

    public override string TokensLastUsed(LocalDate? day) => day is { } known ? $"Usada por última vez el {Date(known)}" : "Nunca usada";

    public override string TokensOf(string person) => $"De {person}";

    public override string TokensTooMany(int most) => $"Tiene {most} claves que sirven. Retire antes una.";

    public override string TokensNameMissing(int most) => $"Escriba para qué es, en 1 a {most} caracteres.";

    public override string TokensScopeMissing => "Marque al menos una.";

    public override string TokensScope(string scope) => scope switch
    {
        "read" => "Leer camas, avisos, previsiones, fuentes y correos, hasta donde usted puede",
        "log" => "Escribir y anular anotaciones",
        "beds" => "Crear y cambiar camas",
        "sites" => "Crear y cambiar sitios",
        "feeds" => "Probar, guardar y quitar fuentes meteorológicas",
        "people" => "Invitar y cambiar miembros",
        "cooperative" => "Gestionar la cooperativa: ajustes, webhooks, claves de todos, auditoría, exportación",
        "settings" => "Cambiar su propio idioma, sus unidades y sus horas",
        _ => "Crear y retirar sus propias claves",
    };

    public override string ApiTitle => "La API web";

    public override string ApiLead => "Todo lo que hacen las páginas, para programas. La descripción está en inglés.";

    public override string ApiOperations => "Operaciones";

    public override string NameOf(TokenState state) => state switch
    {
        TokenState.Good => "sirve",
        TokenState.Expired => "caducada",
        _ => "retirada",
    };
}
